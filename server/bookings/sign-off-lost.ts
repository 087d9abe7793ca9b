import type { Tx } from '../database/transaction.js';
import { missingCompetences } from '../inductions/standing.js';
import type { MemberSuspended, SignOffEnded } from '../listeners.js';
import { LOST_CONDITION } from '../words/en/bookings.js';
import { needAttention } from './need-attention.js';
import { SIGN_OFFS_NEEDED } from './sign-offs-needed.js';
import { comingBooked, membersWithComing } from './store.js';

/** Marks the coming bookings of a member that rested on a sign-off which stands no longer. */
export async function signOffLost(
  tx: Tx,
  { memberId, at, actorId }: Pick<SignOffEnded, 'memberId' | 'at' | 'actorId'>,
): Promise<void> {
  for (const { id: bookingId, endsAt } of await comingBooked(tx, memberId, at)) {
    const missing = await missingCompetences(tx, memberId, SIGN_OFFS_NEEDED, endsAt);
    if (missing.length === 0) continue;
    await needAttention(tx, { bookingId, reason: LOST_CONDITION.signOff(missing), at, actorId });
  }
}

/** Marks all coming bookings of a member who may do nothing here for the time being. */
export async function memberLost(tx: Tx, { memberId, at, actorId }: MemberSuspended): Promise<void> {
  for (const { id: bookingId } of await comingBooked(tx, memberId, at)) {
    await needAttention(tx, { bookingId, reason: LOST_CONDITION.suspended, at, actorId });
  }
}

/** Looks at everybody's coming bookings once more, whatever it was that took a sign-off from under them. */
export async function lookAtComing(tx: Tx, now: Date): Promise<void> {
  for (const memberId of await membersWithComing(tx, now)) {
    await signOffLost(tx, { memberId, at: now, actorId: null });
  }
}
