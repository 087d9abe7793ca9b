import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { type Refusal, refuse } from '../reasons.js';
import { plateToRevise, setPlateName } from './store.js';

/** Gives a plate of the actor's own another name; bookings and trail go on knowing it by its id. */
export async function renamePlate(
  { actor, now, tx }: Ctx,
  given: { readonly plateId: string; readonly name: string },
): Promise<string | Refusal> {
  const plate = await plateToRevise(tx, given.plateId);
  if (plate === undefined) return refuse('not-found', { figures: { what: 'plate' } });
  const forbidden = refusalUnless(actor, 'plate-revise', plate, { by: 'plate-see', what: 'plate' });
  if (forbidden !== undefined) return forbidden;
  if (plate.name === given.name) return plate.id;
  await setPlateName(tx, plate.id, given.name);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'plate-renamed',
    subjectKind: 'plate',
    subjectId: plate.id,
    details: { from: plate.name, to: given.name },
  });
  return plate.id;
}
