import type { Tx } from '../database/transaction.js';
import type { MemberLeft } from '../listeners.js';
import { cancelBooking, comingHeld } from './store.js';

/** Gives back the press time of a member who left: all that is not over yet. */
export async function cancelComing(tx: Tx, { memberId, at, actorId }: MemberLeft): Promise<void> {
  for (const bookingId of await comingHeld(tx, memberId, at)) {
    await cancelBooking(tx, bookingId, { by: actorId, at, reason: null });
  }
}
