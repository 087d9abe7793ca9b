import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { type Refusal, refuse } from '../reasons.js';
import type { RulesProposed } from './foreseen.js';
import { RULE_NAMES, type RulesInForce, type ShopRules, shopRules } from './rules.js';
import { findRulesAt, rulesHoldUntil } from './store.js';

/** Part of the rules as somebody wants it from an instant on; what is left out stays as it would be. */
export interface RulesWanted {
  readonly changes: { readonly [name in keyof ShopRules]?: ShopRules[name] | undefined };
  /** Null: from now on. */
  readonly validFrom: Date | null;
}

export interface Proposal extends RulesProposed {
  /** What differs from the version that would hold without it. */
  readonly changed: readonly (keyof ShopRules)[];
  readonly instead: RulesInForce;
}

const DAY_MS = 86_400_000;

/** Further ahead nobody knows what the workshop will want. */
const DAYS_AHEAD_MAX = 366;

/** The whole rules that a wish comes to, or why it may not be made. Writes nothing. */
export async function proposeRules(
  { actor, now, tx }: Pick<Ctx, 'actor' | 'now'> & { readonly tx: Pick<Ctx['tx'], 'query'> },
  wanted: RulesWanted,
): Promise<Proposal | Refusal> {
  const forbidden = refusalUnless(actor, 'shop-rules-edit', {});
  if (forbidden !== undefined) return forbidden;
  const validFrom = wanted.validFrom ?? now;
  if (validFrom < now) return refuse('rules-backdated', { field: 'validFrom' });
  if (validFrom.getTime() - now.getTime() > DAYS_AHEAD_MAX * DAY_MS) {
    return refuse('rules-too-far-ahead', { field: 'validFrom', figures: { maxDays: DAYS_AHEAD_MAX } });
  }
  const instead = await findRulesAt(tx, validFrom);
  if (instead === undefined) throw new Error('There are no shop rules in force.');
  const rules = shopRules.parse({ ...instead, ...wanted.changes });
  if (rules.shortestStretchMinutes > rules.longestStretchMinutes) {
    return refuse('rules-contradict', { field: 'shortestStretchMinutes' });
  }
  const changed = RULE_NAMES.filter((name) => JSON.stringify(rules[name]) !== JSON.stringify(instead[name]));
  if (changed.length === 0) return refuse('rules-unchanged');
  return { rules, changed, instead, validFrom, validUntil: await rulesHoldUntil(tx, validFrom) };
}
