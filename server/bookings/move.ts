import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { memberHeld } from '../members/store.js';
import { Refusal, refuse } from '../reasons.js';
import type { Span } from '../shop/opening-hours.js';
import { reasonsAgainst } from './conditions.js';
import { readGround } from './ground.js';
import { regainAll } from './lost-store.js';
import { bookingById, bookingHeld, moveBooking } from './store.js';
import { takenInstead } from './taken-instead.js';

export interface MoveWanted {
  readonly bookingId: string;
  /** What is left out stays as it is. */
  readonly startsAt: Date | null;
  readonly endsAt: Date | null;
  /** When it was, as the one who moves it saw it. */
  readonly seen?: Span;
}

/**
 * Moves a booking of one's own to another time, or to the time it has already; it is judged as a new one would be, by
 * today's report, clearance and rules, and takes the plate's latest revision: of an earlier one nothing stands.
 *
 * @returns the booking's id, or every reason against it
 * @throws ReportWanted when the report it would stand on has to be computed first
 */
export async function move(ctx: Ctx, wanted: MoveWanted): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  // Before the booking: who revokes holds the member first, who clears the plate, and then looks at the bookings.
  await memberHeld(tx, actor.memberId);
  const seenBooking = await bookingById(tx, wanted.bookingId);
  if (seenBooking === undefined) return refuse('not-found', { figures: { what: 'booking' } });
  const forbidden = refusalUnless(actor, 'booking-move', { ownerId: seenBooking.memberId });
  if (forbidden !== undefined) return forbidden;
  if (seenBooking.status === 'cancelled') return refuse('booking-already-cancelled');
  if (seenBooking.endsAt <= now) return refuse('booking-already-over');
  if (!isSameSpan(wanted.seen ?? seenBooking, seenBooking)) return refuse('changed-meanwhile');
  const span: Span = {
    startsAt: wanted.startsAt ?? seenBooking.startsAt,
    endsAt: wanted.endsAt ?? seenBooking.endsAt,
  };
  const ground = await readGround(ctx, { ...seenBooking, ...span, revision: null }, seenBooking.id);
  if (ground instanceof Refusal) return ground;
  const [first, ...others] = reasonsAgainst(ground);
  if (first !== undefined) return new Refusal([first, ...others]);
  const booking = await bookingHeld(tx, seenBooking.id);
  if (booking === undefined || booking.status === 'cancelled' || !isSameSpan(booking, seenBooking))
    return refuse('changed-meanwhile');
  await regainAll(tx, booking.id, now);
  const moved = await takenInstead(
    moveBooking(tx, booking.id, {
      ...span,
      revision: ground.revision.asked,
      reportId: ground.reportId,
      clearanceId: ground.clearanceId,
      movedBy: actor.memberId,
      movedAt: now,
    }),
  );
  return moved instanceof Refusal ? moved : booking.id;
}

/** True where both begin and end at the same instants. */
export function isSameSpan(one: Span, other: Span): boolean {
  return (
    one.startsAt.getTime() === other.startsAt.getTime() && one.endsAt.getTime() === other.endsAt.getTime()
  );
}
