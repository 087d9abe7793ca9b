import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { notify } from '../notices/notify.js';
import { Refusal, refuse } from '../reasons.js';
import { bookingHeld, cancelBooking } from './store.js';
import { takenInstead } from './taken-instead.js';

export interface CancelWanted {
  readonly bookingId: string;
  readonly reason: string | null;
}

/** Cancels a booking: its owner as they like, a steward anybody's with a reason, which its member is told. */
export async function cancel(ctx: Ctx, wanted: CancelWanted): Promise<string | Refusal> {
  const booking = await bookingHeld(ctx.tx, wanted.bookingId);
  if (booking === undefined) return refuse('not-found', { figures: { what: 'booking' } });
  const own = booking.memberId === ctx.actor.memberId;
  const forbidden = refusalUnless(ctx.actor, 'booking-cancel', { ownerId: booking.memberId });
  if (forbidden !== undefined) return forbidden;
  if (!own && wanted.reason === null) {
    const detail = 'a booking that is not your own is cancelled with a reason that its member can read';
    return refuse('field-invalid', { field: 'reason', figures: { detail } });
  }
  if (booking.status === 'cancelled') return refuse('booking-already-cancelled');
  if (booking.endsAt <= ctx.now) return refuse('booking-already-over');
  const cancelled = await takenInstead(
    cancelBooking(ctx.tx, booking.id, { by: ctx.actor.memberId, at: ctx.now, reason: wanted.reason }),
  );
  if (cancelled instanceof Refusal) return cancelled;
  if (!own) {
    const { memberId, startsAt, endsAt } = booking;
    const figures = {
      startsAt: startsAt.toISOString(),
      endsAt: endsAt.toISOString(),
      reason: wanted.reason ?? '',
    };
    const told = {
      kind: 'booking-cancelled',
      figures,
      href: `/bookings/${booking.id}`,
      at: ctx.now,
    } as const;
    await notify(ctx.tx, { ...told, memberIds: [memberId] });
  }
  return booking.id;
}
