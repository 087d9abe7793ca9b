import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import type { House } from '../http/house.js';
import { Refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { text } from '../http/text.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { ANEW_STATEMENT, INDUCTION_FORM_ERRORS as WRONG } from '../words/en/inductions.js';
import { declareAnew } from './declare-anew.js';

/** The way back of a house in which nobody stewards any more. */
export async function showAnew(request: FastifyRequest, reply: FastifyReply, house: House) {
  return sendAnew(request, reply, house, { note: '', declared: false });
}

export async function postAnew(request: FastifyRequest, reply: FastifyReply, house: House) {
  const fields = (request.body ?? {}) as Record<string, unknown>;
  const note = typeof fields.note === 'string' ? fields.note : '';
  const declared = fields.declared === 'on';
  const read = text(1000).safeParse(note);
  const errors = { ...(!read.success && { note: WRONG.why }), ...(!declared && { declared: WRONG.anew }) };
  if (read.data === undefined || !declared) {
    const errorSummary = summaryOfErrors(errors);
    return sendAnew(request, reply.code(422), house, { note, declared, errors, errorSummary });
  }
  const actor = actorOf(request);
  const wanted = { note: read.data, eighteenOrOlder: declared };
  const outcome = await transact(house.database, (tx) =>
    declareAnew({ actor, now: house.now(), tx }, wanted),
  );
  if (!(outcome instanceof Refusal)) return reply.redirect(`/inductions/history/${actor.memberId}`, 303);
  const errorSummary = summaryOfRefusal(outcome);
  return sendAnew(request, reply.code(outcome.status), house, { note, declared, errorSummary });
}

interface Shown {
  readonly note: string;
  readonly declared: boolean;
  readonly errors?: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

async function sendAnew(request: FastifyRequest, reply: FastifyReply, house: House, shown: Shown) {
  const actor = actorOf(request);
  const forbidden = refusalUnless(actor, 'sign-off-declare', { ownerId: actor.memberId });
  if (forbidden !== undefined) throw new Refused(forbidden);
  return sendSheet(
    request,
    reply,
    house,
    'inductions/declare-anew',
    {
      title: 'Declare stewarding anew',
      kicker: 'Inductions',
      current: 'inductions',
      ...(shown.errorSummary && { errorSummary: shown.errorSummary }),
    },
    {
      note: shown.note,
      errors: shown.errors ?? {},
      statement: [
        { id: 'declared', name: 'declared', value: 'on', text: ANEW_STATEMENT, checked: shown.declared },
      ],
    },
  );
}
