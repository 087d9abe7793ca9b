import type { Queryable } from '../database/queryable.js';
import { type RulesInForce, type ShopRules, shopRules } from './rules.js';

/** The shop rules in force at an instant, or `undefined` before the installation is finished. */
export async function findRulesAt(db: Queryable, at: Date): Promise<RulesInForce | undefined> {
  const [row] = await db.query<{ version: number; rules: string }>(
    'select version, rules::text as rules from shop_rule where valid_from <= $1 order by valid_from desc limit 1',
    [at],
  );
  return row && { ...rulesIn(row.rules), version: row.version };
}

/** Rules already read from their text: every request reads them, and they hardly ever change. */
const alreadyRead = new Map<string, ShopRules>();
const READ_KEPT_MAX = 100;

function rulesIn(json: string): ShopRules {
  const known = alreadyRead.get(json);
  if (known !== undefined) return known;
  const rules = shopRules.parse(JSON.parse(json));
  if (alreadyRead.size >= READ_KEPT_MAX) alreadyRead.clear();
  alreadyRead.set(json, rules);
  return rules;
}

/**
 * The shop rules in force at an instant.
 *
 * @throws Error when the database has none yet: an installation makes the first version
 */
export async function rulesAt(db: Queryable, at: Date): Promise<RulesInForce> {
  const rules = await findRulesAt(db, at);
  if (rules === undefined) throw new Error('There are no shop rules in force.');
  return rules;
}

/** The name people know the place by, or `undefined` before the installation is finished. */
export async function makerspaceName(db: Queryable, at: Date): Promise<string | undefined> {
  const [row] = await db.query<{ name: string }>(
    `select rules ->> 'makerspaceName' as name from shop_rule
     where valid_from <= $1 order by valid_from desc limit 1`,
    [at],
  );
  return row?.name;
}

/** Puts a new version of the rules in force from an instant on. */
export async function addRules(
  db: Queryable,
  rules: ShopRules,
  validFrom: Date,
  setBy: string | null,
): Promise<number> {
  const [row] = await db.query<{ version: number }>(
    `insert into shop_rule (version, valid_from, rules, set_by, created_at)
     select coalesce(max(version), 0) + 1, $1, $2, $3, $1 from shop_rule returning version`,
    [validFrom, JSON.stringify(shopRules.parse(rules)), setBy],
  );
  return row?.version ?? 0;
}
