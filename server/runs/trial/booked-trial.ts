import { type Booking, bookingById } from '../../bookings/store.js';
import type { Actor } from '../../context.js';
import type { Queryable } from '../../database/queryable.js';
import { may, refusalUnless } from '../../members/permissions.js';
import { type Refusal, refuse } from '../../reasons.js';

/** The trial booking whose sheet the actor may see. */
export async function bookedTrial(
  db: Queryable,
  actor: Actor,
  bookingId: string,
): Promise<Booking | Refusal> {
  const booking = await bookingById(db, bookingId);
  if (booking === undefined || !may(actor, 'booking-see', { ownerId: booking.memberId })) {
    return refuse('not-found', { figures: { what: 'booking' } });
  }
  const forbidden = refusalUnless(actor, 'booking-see-whole', { ownerId: booking.memberId });
  if (forbidden !== undefined) return forbidden;
  return booking.bookingKind === 'trial' ? booking : refuse('run-no-trial');
}
