import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Ctx } from '../context.js';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import { id as idSchema } from '../http/id.js';
import { Refused } from '../http/refused.js';
import { leadOn } from '../http/told-once.js';
import { Refusal, refuse } from '../reasons.js';
import { PLATE_FORM_ERRORS } from '../words/en/plates.js';
import type { CheckingHouse } from './checking-house.js';
import { handOverPlate } from './hand-over-plate.js';
import { placePlate } from './place-plate.js';
import { fieldsOf } from './plate-form.js';
import { type PlateTried, plateIdOf, sendPlate } from './plate-page/send-plate.js';
import { retirePlate } from './retire-plate.js';
import { rackForm, sharing as sharingSchema } from './schemas.js';
import { sharePlate } from './share-plate.js';

/** Says who may see and run the plate. */
export async function postSharing(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const sharing = sharingSchema.safeParse(fieldsOf(request.body).sharing);
  return act(request, reply, house, 'shared', (ctx, plateId) =>
    sharing.success
      ? sharePlate(ctx, { plateId, sharing: sharing.data }, house.listeners)
      : Promise.resolve(refuse('field-invalid', { field: 'sharing', figures: { detail: 'choose one' } })),
  );
}

/** Says where the plate lies and how it is. */
export async function postRack(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const form = readForm(rackForm, request.body);
  if (form.errors !== undefined) {
    const errors = Object.fromEntries(
      Object.keys(form.errors).map((field) => [field, PLATE_FORM_ERRORS.rack]),
    );
    const tried: PlateTried = { rack: form.given, errorSummary: summaryOfErrors(errors) };
    return sendPlate(request, reply.code(422), house, tried);
  }
  const { value } = form;
  return act(request, reply, house, 'placed', (ctx, plateId) => placePlate(ctx, { plateId, ...value }));
}

/** Hands the plate over. */
export async function postOwner(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const memberId = idSchema.safeParse(fieldsOf(request.body).memberId);
  return act(request, reply, house, 'handed', (ctx, plateId) =>
    memberId.success
      ? handOverPlate(ctx, { plateId, memberId: memberId.data }, house.listeners)
      : Promise.resolve(refuse('new-owner-unknown', { field: 'memberId' })),
  );
}

/** Retires the plate, or takes it up again. */
export async function postRetired(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const retired = fieldsOf(request.body).retired !== 'no';
  return act(request, reply, house, retired ? 'retired' : 'taken-up', (ctx, plateId) =>
    retirePlate(ctx, { plateId, retired }, house.listeners),
  );
}

/** Does it and leads on to the plate, which tells so; a refusal by a rule is shown above the plate. */
async function act(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  what: string,
  command: (ctx: Ctx, plateId: string) => Promise<string | Refusal>,
): Promise<FastifyReply> {
  const actor = actorOf(request);
  const plateId = plateIdOf(request);
  const outcome = await transact(house.database, (tx) => command({ actor, now: house.now(), tx }, plateId));
  if (!(outcome instanceof Refusal)) {
    return leadOn(reply, house, actor, { what, path: what === 'handed' ? '/plates' : `/plates/${plateId}` });
  }
  if (outcome.status === 403 || outcome.status === 404) throw new Refused(outcome);
  return sendPlate(request, reply.code(outcome.status), house, { errorSummary: summaryOfRefusal(outcome) });
}
