import type { Tx } from '../database/transaction.js';
import type { RulesChanged } from '../listeners.js';
import type { Reason } from '../reasons.js';
import { wordReason } from '../words/index.js';
import { reasonsUnder } from './foresee-rules.js';
import { needAttention } from './need-attention.js';
import { bookingsStanding } from './store.js';

/** New shop rules: every booking that starts under them is asked again whether it still fits. */
export async function rulesLost(tx: Tx, changed: RulesChanged): Promise<void> {
  const { foreseen, validFrom, validUntil, at, actorId } = changed;
  const { rules, verdicts, checksChange } = foreseen;
  for (const booking of await bookingsStanding(tx, { from: validFrom, until: validUntil, now: at })) {
    const reasons = reasonsUnder(booking, rules, verdicts, checksChange);
    if (reasons.length === 0) continue;
    await needAttention(tx, { bookingId: booking.id, reason: sentenceOf(reasons), at, actorId });
  }
}

function sentenceOf(reasons: readonly Reason[]): string {
  return reasons.map((reason) => wordReason(reason).message).join(' ');
}
