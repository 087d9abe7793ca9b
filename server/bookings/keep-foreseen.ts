import { isDeepStrictEqual } from 'node:util';
import type { Tx } from '../database/transaction.js';
import { reportKey } from '../plates/check-ground.js';
import { copyReports, insertReport } from '../plates/store.js';
import { bolsterOnPress } from '../press/store.js';
import type { Foreseen } from '../shop/foreseen.js';
import type { RulesInForce } from '../shop/rules.js';

/**
 * Keeps the reports that were computed for a change, in its transaction, if it became just what they were computed on;
 * otherwise they are made again within the hour, and until then not known.
 *
 * @param rulesVersion that of the rules that were proposed; null where no rules were
 */
export async function keepForeseen(
  tx: Tx,
  { reports, ground, rules, insteadOf, checksChange }: Foreseen,
  rulesVersion: number | null,
  at: Date,
): Promise<void> {
  const now = await bolsterOnPress(tx, null);
  if (now === undefined) return;
  const under = (version: number): RulesInForce => ({ ...rules, version });
  if (rulesVersion !== null && !checksChange) {
    const {
      plateId: _p,
      revision: _r,
      polymer: _o,
      ...key
    } = reportKey({ ...now, rules: under(insteadOf) }, '', 0, '');
    return await copyReports(tx, key, rulesVersion, at);
  }
  if (ground === null || !isSameGround(ground, now)) return;
  for (const { plateId, revision, polymer, shopRuleVersion, verdict, json } of reports) {
    const version = shopRuleVersion ?? rulesVersion;
    if (version === null) continue;
    const key = reportKey({ ...now, rules: under(version) }, plateId, revision, polymer);
    await insertReport(tx, key, verdict, json, at);
  }
}

function isSameGround(
  foreseen: NonNullable<Foreseen['ground']>,
  now: NonNullable<Foreseen['ground']>,
): boolean {
  return (['bolster', 'press'] as const).every((what) => {
    const [one, other] = [foreseen[what], now[what]];
    return one.id === other.id && one.version === other.version && isDeepStrictEqual(one.facts, other.facts);
  });
}
