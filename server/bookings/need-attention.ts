import { recordAudit } from '../audit/record-audit.js';
import type { Tx } from '../database/transaction.js';
import { standingStewards } from '../inductions/sign-off-store.js';
import { notify } from '../notices/notify.js';
import { markAttention } from './store.js';

export interface AttentionNeeded {
  readonly bookingId: string;
  /** What it lost, as a sentence for its member and the stewards. */
  readonly reason: string;
  readonly at: Date;
  /** Who brought it about; null when nobody did. */
  readonly actorId: string | null;
}

/**
 * Marks a booking that lost a condition, and tells its member and the stewards. One that is marked already, or
 * cancelled, stays as it is and nobody is told again.
 */
export async function needAttention(
  tx: Tx,
  { bookingId, reason, at, actorId }: AttentionNeeded,
): Promise<void> {
  const marked = await markAttention(tx, bookingId);
  if (marked === undefined) return;
  const { memberId, startsAt, endsAt } = marked;
  await recordAudit(tx, {
    at,
    actorId,
    action: 'booking-needs-attention',
    subjectKind: 'booking',
    subjectId: bookingId,
    details: { memberId, reason },
  });
  const figures = { startsAt: startsAt.toISOString(), endsAt: endsAt.toISOString(), reason };
  const told = { kind: 'booking-needs-attention', figures, href: `/bookings/${bookingId}`, at } as const;
  const stewards = (await standingStewards(tx, at)).filter((id) => id !== memberId);
  await notify(tx, { ...told, memberIds: [memberId] });
  await notify(tx, { ...told, memberIds: stewards, aboutId: memberId });
}
