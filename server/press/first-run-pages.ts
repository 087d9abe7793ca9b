import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { type FieldErrors, summaryOfErrors } from '../http/form.js';
import type { House } from '../http/house.js';
import { accept, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { leadOn } from '../http/told-once.js';
import { hashPassword } from '../members/password-hash.js';
import { type CellWords, FIRST_RUN_SECTIONS, FOUNDING_DECLARATION } from '../words/en/first-run.js';
import { readFirstRun } from './first-run-form.js';
import { found, isLinkGood } from './found.js';

const LABELS = Object.fromEntries(
  FIRST_RUN_SECTIONS.flatMap(({ cells }) => cells.map(({ name, label }) => [name, label])),
);

interface LinkParams {
  readonly Params: { readonly token: string };
}

/** The one-time pages that found a makerspace. */
export const firstRunPages: FastifyPluginAsync<House> = async (pages, house) => {
  const { database, now } = house;

  pages.get<LinkParams>('/first-run/:token', { config: { open: true } }, async (request, reply) => {
    if (!(await isLinkGood(database, request.params.token))) throw refused('first-run-link-spent');
    return showForm(request, reply, house, {}, {});
  });

  pages.post<LinkParams>('/first-run/:token', { config: { open: true } }, async (request, reply) => {
    const { token } = request.params;
    if (!(await isLinkGood(database, token))) throw refused('first-run-link-spent');
    const { given, value, errors } = readFirstRun(request.body);
    if (errors !== undefined) return showForm(request, reply.code(422), house, given, errors);
    const passwordHash = await hashPassword(value.password);
    accept(
      await transact(database, (tx) =>
        found({ tx, now: now() }, house.listeners, token, value, passwordHash),
      ),
    );
    return leadOn(reply, house, undefined, { what: 'founded', path: '/sign-in' });
  });
};

function showForm(
  request: FastifyRequest,
  reply: FastifyReply,
  house: House,
  given: { readonly [field: string]: string },
  errors: FieldErrors,
): Promise<FastifyReply> {
  // The address is a secret until the form is sent.
  reply.header('cache-control', 'no-store').header('referrer-policy', 'same-origin');
  return sendSheet(
    request,
    reply,
    house,
    'home/first-run',
    {
      title: 'Found your makerspace',
      ...(Object.keys(errors).length > 0 && { errorSummary: summaryOfErrors(errors, LABELS) }),
    },
    {
      action: request.url,
      declarations: [
        { id: 'declared', value: 'yes', ...FOUNDING_DECLARATION, checked: given.declared === 'yes' },
      ],
      sections: FIRST_RUN_SECTIONS.map((section) => ({
        ...section,
        cells: section.cells.map((cell) => cellView(cell, given, errors)),
      })),
    },
  );
}

function cellView(cell: CellWords, given: { readonly [field: string]: string }, errors: FieldErrors) {
  const isSecret = cell.type === 'password';
  const value = given[cell.name] ?? cell.first ?? '';
  return {
    ...cell,
    ...(!isSecret && { value }),
    ...(cell.numeric === true && { inputMode: 'decimal' }),
    ...(cell.choices && {
      options: cell.choices.map((choice) => ({ ...choice, selected: choice.value === value })),
    }),
    error: errors[cell.name],
  };
}
