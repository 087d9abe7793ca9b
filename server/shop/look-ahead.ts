import type { Actor } from '../context.js';
import { Refusal } from '../reasons.js';
import type { AboveQuota } from './above-quota.js';
import type { Foreseen } from './foreseen.js';
import { type Proposal, proposeRules, type RulesWanted } from './propose-rules.js';
import type { ShopHouse } from './shop-house.js';
import { latestVersion } from './store.js';

export interface LookedAhead {
  readonly proposal: Proposal;
  readonly foreseen: Foreseen;
  /** Who would be above a quota that is lowered. */
  readonly aboveQuota: readonly AboveQuota[];
  /** The latest version there was; whoever confirms says so. */
  readonly basedOn: number;
}

const QUOTAS = ['quotaHoursAMonth', 'quotaHoursAhead', 'timeZone'] as const;

/** What a change of the rules would come to and do, with nothing written and no transaction open. */
export async function lookAhead(
  house: ShopHouse,
  actor: Actor,
  wanted: RulesWanted,
): Promise<LookedAhead | Refusal> {
  const { database, now } = house;
  const basedOn = await latestVersion(database);
  const proposal = await proposeRules({ actor, now: now(), tx: database }, wanted);
  if (proposal instanceof Refusal) return proposal;
  const { rules, changed, validFrom } = proposal;
  const lowered = QUOTAS.some((name) => changed.includes(name));
  return {
    proposal,
    basedOn,
    foreseen: await house.foresee(proposal, actor),
    aboveQuota: lowered ? await house.aboveQuota(database, rules, validFrom) : [],
  };
}
