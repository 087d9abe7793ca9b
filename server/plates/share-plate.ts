import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { type Listeners, tell } from '../listeners.js';
import { Refusal } from '../reasons.js';
import { plateActedOn } from './plate-acted-on.js';
import { type Plate, setSharing } from './store.js';

/** The owner lets everybody see the plate, or see and run it, or nobody. Others' bookings of it are looked at anew. */
export async function sharePlate(
  ctx: Ctx,
  given: { readonly plateId: string; readonly sharing: Plate['sharing'] },
  listeners: Pick<Listeners, 'sharingChanged'>,
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const plate = await plateActedOn(ctx, 'plate-share', given.plateId);
  if (plate instanceof Refusal) return plate;
  const { sharing } = given;
  if (plate.sharing === sharing) return plate.id;
  await setSharing(tx, plate.id, sharing);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'plate-shared',
    subjectKind: 'plate',
    subjectId: plate.id,
    details: { from: plate.sharing, to: sharing },
  });
  const changed = { plateId: plate.id, sharing, at: now, actorId: actor.memberId };
  await tell(listeners.sharingChanged, tx, changed);
  return plate.id;
}
