import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { Refusal } from '../reasons.js';
import { plateActedOn } from './plate-acted-on.js';
import { setPlateName } from './store.js';

/** Gives a plate of the actor's own another name; bookings and trail go on knowing it by its id. */
export async function renamePlate(
  ctx: Ctx,
  given: { readonly plateId: string; readonly name: string },
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const plate = await plateActedOn(ctx, 'plate-revise', given.plateId);
  if (plate instanceof Refusal) return plate;
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
