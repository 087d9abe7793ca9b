import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import { reasonsAgainst } from './conditions.js';
import { readGround, type Wanted } from './ground.js';
import { insertBooking } from './store.js';
import { takenInstead } from './taken-instead.js';

export interface BookingWanted extends Wanted {
  readonly shots: number | null;
}

/**
 * Books the press for a plate of one's own. The database judges overlaps; what is seen of them before only
 * makes the refusal complete.
 *
 * @returns the booking's id, or every reason against it
 * @throws ReportWanted when the report it would stand on has to be computed first
 */
export async function book(ctx: Ctx, wanted: BookingWanted): Promise<string | Refusal> {
  const forbidden = refusalUnless(ctx.actor, 'booking-make', { ownerId: ctx.actor.memberId });
  if (forbidden !== undefined) return forbidden;
  const ground = await readGround(ctx, wanted, null);
  if (ground instanceof Refusal) return ground;
  const [first, ...others] = reasonsAgainst(ground);
  if (first !== undefined) return new Refusal([first, ...others]);
  return await takenInstead(
    insertBooking(ctx.tx, {
      ...wanted,
      revision: ground.revision.asked,
      memberId: ctx.actor.memberId,
      pressId: ground.pressId,
      reportId: ground.reportId,
      clearanceId: ground.clearanceId,
      createdAt: ctx.now,
    }),
  );
}
