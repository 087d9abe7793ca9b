import type { Tx } from '../database/transaction.js';
import { type Listener, type SignOffEnded, tell } from '../listeners.js';
import { notify } from '../notices/notify.js';
import { REMINDED_DAYS_BEFORE } from './lapses-soon.js';
import { takeReminders } from './sign-off-store.js';

const DAY_MS = 86_400_000;

/**
 * Tells members of sign-offs that lapse soon, and of those that have lapsed what rested on them. Each is told
 * once, however many processes do this and however often.
 *
 * @param ended who must know that a sign-off stands no longer
 */
export async function remindOfLapses(
  tx: Tx,
  now: Date,
  ended: readonly Listener<SignOffEnded>[],
): Promise<void> {
  const soon = new Date(now.getTime() + REMINDED_DAYS_BEFORE * DAY_MS);
  for (const signOff of await takeReminders(tx, 'lapses-soon', { after: now, until: soon }, now)) {
    await notify(tx, {
      memberIds: [signOff.memberId],
      kind: 'sign-off-lapsing',
      figures: { competence: signOff.title, until: signOff.validUntil.toISOString() },
      href: `/inductions/${signOff.competence}`,
      at: now,
    });
  }
  for (const signOff of await takeReminders(tx, 'lapsed', { after: LONG_AGO, until: now }, now)) {
    await notify(tx, {
      memberIds: [signOff.memberId],
      kind: 'sign-off-lapsed',
      figures: { competence: signOff.title },
      href: `/inductions/${signOff.competence}`,
      at: now,
    });
    const { memberId, competence } = signOff;
    await tell(ended, tx, { memberId, competence, at: now, actorId: null });
  }
}

const LONG_AGO = new Date(0);
