import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { memberHeld } from '../members/store.js';
import { Refusal, refuse } from '../reasons.js';
import type { Span } from '../shop/opening-hours.js';
import { reasonsAgainst } from './conditions.js';
import { readGround } from './ground.js';
import { bookingHeld, moveBooking } from './store.js';
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
 * Moves a booking of one's own to another time; it is judged as a new one would be, by today's report and rules. It
 * keeps its revision, also where the plate has a later one by now: a plate that is reworked costs nobody their time.
 *
 * @returns the booking's id, or every reason against it
 * @throws ReportWanted when the report it would stand on has to be computed first
 */
export async function move(ctx: Ctx, wanted: MoveWanted): Promise<string | Refusal> {
  // Before the booking: who revokes holds the member first, and then looks at the bookings.
  await memberHeld(ctx.tx, ctx.actor.memberId);
  const booking = await bookingHeld(ctx.tx, wanted.bookingId);
  if (booking === undefined) return refuse('not-found', { figures: { what: 'booking' } });
  const forbidden = refusalUnless(ctx.actor, 'booking-move', { ownerId: booking.memberId });
  if (forbidden !== undefined) return forbidden;
  if (booking.status === 'cancelled') return refuse('booking-already-cancelled');
  if (booking.endsAt <= ctx.now) return refuse('booking-already-over');
  const { seen = booking } = wanted;
  if (!isSameSpan(seen, booking)) return refuse('changed-meanwhile');
  const span: Span = {
    startsAt: wanted.startsAt ?? booking.startsAt,
    endsAt: wanted.endsAt ?? booking.endsAt,
  };
  const ground = await readGround(ctx, { ...booking, ...span }, booking.id);
  if (ground instanceof Refusal) return ground;
  const [first, ...others] = reasonsAgainst(ground);
  if (first !== undefined) return new Refusal([first, ...others]);
  const moved = await takenInstead(
    moveBooking(ctx.tx, booking.id, {
      ...span,
      reportId: ground.reportId,
      movedBy: ctx.actor.memberId,
      movedAt: ctx.now,
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
