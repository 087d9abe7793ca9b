import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { type FieldErrors, readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import { id } from '../http/id.js';
import { Refused, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { leadOn } from '../http/told-once.js';
import { may, refusalUnless } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import type { ErrorSummaryView } from '../views.js';
import { STOCK_LABELS } from '../words/en/stock.js';
import type { PressHouse } from './press-house.js';
import { doneNotices } from './press-notices.js';
import { addStackPart } from './stack-parts/add-stack-part.js';
import { editStackPart } from './stack-parts/edit-stack-part.js';
import { newStackPartForm, stackPartForm } from './stack-parts/stack-part-form.js';
import { fieldsOfPart, labelCells, metalCells, stockLines } from './stack-parts/stock-sheet.js';
import { type StackPart, stackPart, stackParts } from './stack-parts/store.js';

interface Shown {
  readonly given?: FieldErrors;
  readonly errors?: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
}

/** Facing plates and packers on the rack. */
export function stockPages(pages: FastifyInstance, house: PressHouse): void {
  const { database, now } = house;

  pages.get('/stock', (request, reply) => showStock(request, reply, house, {}));

  pages.post('/stock', async (request, reply) => {
    onlyKeepers(request);
    const { given, value, errors } = readForm(newStackPartForm, request.body);
    if (errors !== undefined) {
      const errorSummary = summaryOfErrors(errors, STOCK_LABELS);
      return showStock(request, reply.code(422), house, { given, errors, errorSummary });
    }
    const actor = actorOf(request);
    const outcome = await transact(database, (tx) => addStackPart({ actor, now: now(), tx }, value));
    if (!(outcome instanceof Refusal))
      return leadOn(reply, house, actor, { what: 'stocked', path: '/stock' });
    const errorSummary = summaryOfRefusal(outcome);
    return showStock(request, reply.code(outcome.status), house, { given, errorSummary });
  });

  pages.get('/stock/:id', async (request, reply) => {
    onlyKeepers(request);
    const part = await partOf(request, house);
    return showPart(request, reply, house, part, { given: fieldsOfPart(part) });
  });

  pages.post('/stock/:id', async (request, reply) => {
    onlyKeepers(request);
    const part = await partOf(request, house);
    const { given, value, errors } = readForm(stackPartForm, request.body);
    if (errors !== undefined) {
      const errorSummary = summaryOfErrors(errors, STOCK_LABELS);
      return showPart(request, reply.code(422), house, part, { given, errors, errorSummary });
    }
    const { basedOn, ...change } = value;
    const actor = actorOf(request);
    const outcome = await transact(database, (tx) =>
      editStackPart({ actor, now: now(), tx }, { id: part.id, basedOn, change }),
    );
    if (!(outcome instanceof Refusal)) return leadOn(reply, house, actor, { what: 'edited', path: '/stock' });
    const errorSummary = summaryOfRefusal(outcome);
    return showPart(request, reply.code(outcome.status), house, part, { given, errorSummary });
  });
}

/** @throws Refused for who may see the stock but not keep it */
function onlyKeepers(request: FastifyRequest): void {
  const forbidden = refusalUnless(actorOf(request), 'stock-keep', {});
  if (forbidden !== undefined) throw new Refused(forbidden);
}

async function partOf(request: FastifyRequest, { database }: PressHouse): Promise<StackPart> {
  const parsed = id.safeParse((request.params as { id?: unknown }).id);
  const part = parsed.success ? await stackPart(database, parsed.data) : undefined;
  if (part === undefined) throw refused('not-found', { figures: { what: 'facing plate or packer' } });
  return part;
}

async function showStock(request: FastifyRequest, reply: FastifyReply, house: PressHouse, shown: Shown) {
  const { given = {}, errors = {}, errorSummary } = shown;
  const parts = await stackParts(house.database);
  return sendSheet(
    request,
    reply,
    house,
    'press/stock',
    {
      title: 'Facing plates and packers',
      kicker: 'The press',
      current: 'press',
      notices: doneNotices(request, reply, house),
      ...(errorSummary && { errorSummary }),
    },
    {
      ...stockLines(parts),
      mayKeep: may(actorOf(request), 'stock-keep'),
      cells: [...metalCells({ given, errors }), ...labelCells({ given, errors })],
    },
  );
}

async function showPart(
  request: FastifyRequest,
  reply: FastifyReply,
  house: PressHouse,
  part: StackPart,
  { given = {}, errors = {}, errorSummary }: Shown,
) {
  return sendSheet(
    request,
    reply,
    house,
    'press/stack-part',
    {
      title: part.name,
      kicker: part.kind === 'facing' ? 'Facing plate' : 'Packer',
      current: 'press',
      ...(errorSummary && { errorSummary }),
    },
    {
      id: part.id,
      thickness: part.thicknessMm,
      size: `${part.widthMm} × ${part.heightMm} mm`,
      material: part.material,
      basedOn: given.basedOn ?? String(part.edition),
      cells: labelCells({ given, errors }, true),
    },
  );
}
