import type { z } from 'zod';
import type { Actor, Ctx } from '../context.js';
import { may } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import { wordReason } from '../words/index.js';
import type { bookingReply } from './schemas.js';
import { type Booking, bookingById } from './store.js';

export type BookingReply = z.output<typeof bookingReply>;

/** True when the actor may see what a booking is for. */
export function seesWhole(actor: Actor, booking: Pick<Booking, 'memberId'>): boolean {
  return may(actor, 'booking-see-whole', { ownerId: booking.memberId });
}

/** A booking as this member may see it. Of others' the time, equipment, display name and polymer, no more. */
export function bookingView(actor: Actor, booking: Booking): BookingReply {
  const seenByAll = {
    id: booking.id,
    pressId: booking.pressId,
    startsAt: booking.startsAt,
    endsAt: booking.endsAt,
    equipment: [...booking.equipment],
    displayName: booking.displayName,
    polymer: booking.polymer,
    own: booking.memberId === actor.memberId,
  };
  if (!seesWhole(actor, booking)) return seenByAll;
  return {
    ...seenByAll,
    memberId: booking.memberId,
    plateId: booking.plateId,
    plateName: booking.plateName,
    revision: booking.revision,
    reportVerdict: booking.reportVerdict,
    bookingKind: booking.bookingKind,
    shots: booking.shots,
    granulate: booking.granulate,
    clearanceId: booking.clearanceId,
    status: booking.status,
    attention: attentionView(booking),
    createdAt: booking.createdAt,
    cancelledAt: booking.cancelledAt,
    cancelReason: booking.cancelReason,
  };
}

/** What a booking is missing, with what to do; nothing of one that was cancelled. */
function attentionView({ status, lost }: Booking) {
  if (status !== 'needs-attention') return [];
  return lost.map(({ since, ...reason }) => {
    const { message, fix } = wordReason(reason);
    return { code: reason.code, message, fix, since };
  });
}

/** What a command that changed a booking answers with: the booking as it is now. */
export async function viewAfter(
  { actor, tx }: Ctx,
  outcome: string | Refusal,
): Promise<BookingReply | Refusal> {
  if (outcome instanceof Refusal) return outcome;
  const booking = await bookingById(tx, outcome);
  if (booking === undefined) throw new Error(`Booking ${outcome} is not there after it was written.`);
  return bookingView(actor, booking);
}
