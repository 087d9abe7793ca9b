import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { type Listeners, tell } from '../listeners.js';
import { Refusal } from '../reasons.js';
import { plateActedOn } from './plate-acted-on.js';
import { type Plate, setRetired } from './store.js';

/** Whether a plate is used no more: it is neither booked nor revised, and what was made with it stays known. */
export function isRetired({ retiredAt }: Pick<Plate, 'retiredAt'>): boolean {
  return retiredAt !== null;
}

/** Its owner or a steward retires a plate, or takes a retired one up again. Bookings of it are looked at anew. */
export async function retirePlate(
  ctx: Ctx,
  { plateId, retired }: { readonly plateId: string; readonly retired: boolean },
  listeners: Pick<Listeners, 'plateRetired'>,
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const plate = await plateActedOn(ctx, 'plate-retire', plateId);
  if (plate instanceof Refusal) return plate;
  if (isRetired(plate) === retired) return plate.id;
  await setRetired(tx, plate.id, retired ? { at: now, by: actor.memberId } : null);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: retired ? 'plate-retired' : 'plate-taken-up',
    subjectKind: 'plate',
    subjectId: plate.id,
  });
  await tell(listeners.plateRetired, tx, { plateId: plate.id, retired, at: now, actorId: actor.memberId });
  return plate.id;
}
