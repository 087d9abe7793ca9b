import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import { type RulesInForce, type ShopRules, shopRules } from './rules.js';

/** The shop rules in force at an instant, or `undefined` before the installation is finished. */
export async function findRulesAt(db: Queryable, at: Date): Promise<RulesInForce | undefined> {
  const [row] = await db.query<{ version: number; rules: string }>(
    'select version, rules::text as rules from shop_rule where valid_from <= $1 order by valid_from desc, version desc limit 1',
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
     where valid_from <= $1 order by valid_from desc, version desc limit 1`,
    [at],
  );
  return row?.name;
}

/** Puts a new version of the rules in force from an instant on; no version is backdated, the database sees to it. */
export async function addRules(
  db: Queryable,
  rules: ShopRules,
  validFrom: Date,
  setBy: string | null,
  at: Date = validFrom,
): Promise<number> {
  const [row] = await db.query<{ version: number }>(
    `insert into shop_rule (version, valid_from, rules, set_by, created_at)
     select coalesce(max(version), 0) + 1, $1, $2, $3, $4 from shop_rule returning version`,
    [validFrom, JSON.stringify(shopRules.parse(rules)), setBy, at],
  );
  return row?.version ?? 0;
}

/** One version of the rules, with when it holds and who set it. */
export interface RulesVersion {
  readonly version: number;
  readonly validFrom: Date;
  /** When the next version takes over, as known now. */
  readonly validUntil: Date | null;
  readonly setBy: string | null;
  readonly rules: ShopRules;
}

/** The version in force at an instant and those still to come, in the order in which they hold. */
export async function rulesInForceAndComing(db: Queryable, at: Date): Promise<readonly RulesVersion[]> {
  const rows = await db.query<Omit<RulesVersion, 'rules'> & { rules: string }>(
    `select v.version, v.valid_from as "validFrom",
       lead(v.valid_from) over (order by v.valid_from) as "validUntil", m.display_name as "setBy",
       v.rules::text as rules
     from (
       select distinct on (valid_from) * from shop_rule
       where valid_from > $1 or valid_from = (select max(valid_from) from shop_rule where valid_from <= $1)
       order by valid_from, version desc
     ) v left join member m on m.id = v.set_by
     order by v.valid_from`,
    [at],
  );
  return rows.map((row) => ({ ...row, rules: rulesIn(row.rules) }));
}

/** When the version that would hold from an instant on gives way to the next one, as known now. */
export async function rulesHoldUntil(db: Queryable, from: Date): Promise<Date | null> {
  const [row] = await db.query<{ until: Date | null }>(
    'select min(valid_from) as until from shop_rule where valid_from > $1',
    [from],
  );
  return row?.until ?? null;
}

/** One number for everybody who sets rules or acts by them. */
const RULES_LOCK = 7_283_190_442;

/** Holds the rules for a change: versions are added one after the other. Gives the latest version's number. */
export async function rulesHeld(tx: Tx): Promise<number> {
  await tx.query('select pg_advisory_xact_lock($1)', [RULES_LOCK]);
  return latestVersion(tx);
}

/** The number of the version that was added last, whenever it holds; 0 before the first. */
export async function latestVersion(db: Queryable): Promise<number> {
  const [row] = await db.query<{ latest: number | null }>('select max(version) as latest from shop_rule');
  return row?.latest ?? 0;
}

/** A version by its number, with when it holds, as known now. */
export async function rulesVersion(db: Queryable, version: number): Promise<RulesVersion | undefined> {
  const [row] = await db.query<Omit<RulesVersion, 'rules'> & { rules: string }>(
    `select v.version, v.valid_from as "validFrom", v.rules::text as rules, m.display_name as "setBy",
       (select min(n.valid_from) from shop_rule n where n.valid_from > v.valid_from) as "validUntil"
     from shop_rule v left join member m on m.id = v.set_by where v.version = $1`,
    [version],
  );
  return row && { ...row, rules: rulesIn(row.rules) };
}

/** Keeps the rules from being changed until the transaction ends, together with others who act by them. */
export async function rulesStand(tx: Tx): Promise<void> {
  await tx.query('select pg_advisory_xact_lock_shared($1)', [RULES_LOCK]);
}
