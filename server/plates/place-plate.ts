import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { Refusal } from '../reasons.js';
import { plateActedOn } from './plate-acted-on.js';
import { type PlateOnRack, setOnRack } from './store.js';

/** What of it is given; the rest stays. */
export type PlacedAnew = { readonly [field in keyof PlateOnRack]?: PlateOnRack[field] | undefined };

/** Its owner or a steward says where a plate lies and how it is; what is left out stays. */
export async function placePlate(
  ctx: Ctx,
  given: { readonly plateId: string } & PlacedAnew,
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const plate = await plateActedOn(ctx, 'plate-rack', given.plateId);
  if (plate instanceof Refusal) return plate;
  const { place = plate.place, condition = plate.condition, conditionNote = plate.conditionNote } = given;
  const isSame =
    place === plate.place && condition === plate.condition && conditionNote === plate.conditionNote;
  if (isSame) return plate.id;
  await setOnRack(tx, plate.id, { place, condition, conditionNote });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'plate-placed',
    subjectKind: 'plate',
    subjectId: plate.id,
    details: { place, condition, note: conditionNote },
  });
  return plate.id;
}
