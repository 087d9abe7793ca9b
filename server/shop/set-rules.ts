import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { type Listeners, tell } from '../listeners.js';
import { Refusal, refuse } from '../reasons.js';
import type { Foreseen } from './foreseen.js';
import { proposeRules, type RulesWanted } from './propose-rules.js';
import { addRules, rulesHeld } from './store.js';

export interface RulesConfirmed extends RulesWanted {
  /** The latest version when the change was looked at; null to take whatever is the latest now. */
  readonly basedOn: number | null;
  /** What the change does, as it was foreseen for exactly these rules. */
  readonly foreseen: Foreseen;
}

/**
 * Adds a version of the rules and lets later rooms act on it in the same transaction: what no longer fits is
 * marked and told.
 *
 * @returns the new version's number, or why not: backdated, no change, or not what was looked at
 */
export async function setRules(
  ctx: Ctx,
  confirmed: RulesConfirmed,
  listeners: Pick<Listeners, 'rulesChanged'>,
): Promise<number | Refusal> {
  const { actor, now, tx } = ctx;
  const latest = await rulesHeld(tx);
  const proposal = await proposeRules(ctx, confirmed);
  if (proposal instanceof Refusal) return proposal;
  const { rules, validFrom, validUntil, changed } = proposal;
  const isOther = JSON.stringify(rules) !== JSON.stringify(confirmed.foreseen.rules);
  if (isOther || (confirmed.basedOn !== null && confirmed.basedOn !== latest))
    return refuse('changed-meanwhile');
  const version = await addRules(tx, rules, validFrom, actor.memberId, now);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'shop-rules-set',
    subjectKind: 'shop-rules',
    subjectId: String(version),
    details: { version, validFrom: validFrom.toISOString(), changed: changed.join(', ') },
  });
  await tell(listeners.rulesChanged, tx, {
    version,
    validFrom,
    validUntil,
    foreseen: confirmed.foreseen,
    at: now,
    actorId: actor.memberId,
  });
  return version;
}
