import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import type { BolsterFacts, PressFacts } from '../engineering/press-facts.js';
import { type BolsterVersionRow, bolsterFactsOf, type PressVersionRow, pressFactsOf } from './facts.js';

/** One version of a bolster, the latest unless it was asked for by number. */
export interface Bolster {
  readonly id: string;
  readonly version: number;
  readonly name: string;
  readonly pressId: string;
  readonly mounted: boolean;
  readonly facts: BolsterFacts;
}

/** One version of the press, the latest unless it was asked for by number. */
export interface Press {
  readonly id: string;
  readonly version: number;
  readonly name: string;
  readonly facts: PressFacts;
}

const BOLSTER = 'select b.press_id, b.name, b.mounted, v.* from bolster b';
const LATEST_BOLSTER_VERSION = `${BOLSTER} cross join lateral
  (select * from bolster_version where bolster_id = b.id order by version desc limit 1) v`;
const LATEST_PRESS_VERSION = `select p.name, v.* from press p cross join lateral
  (select * from press_version where press_id = p.id order by version desc limit 1) v`;

/** The press of the house; with several, the first that came. */
export async function thePress(db: Queryable): Promise<Press | undefined> {
  const [row] = await db.query<PressVersionRow>(
    `${LATEST_PRESS_VERSION} order by p.created_at, p.id limit 1`,
  );
  return row && pressOf(row);
}

/** What a sheet says about the press of the house. */
export interface PressOnSheet {
  readonly clampMaxKn: number;
  readonly bolsterName: string | null;
}

/** What a sheet says about the press of the house, without reading all its facts. */
export async function pressOnSheet(db: Queryable): Promise<PressOnSheet | undefined> {
  const [row] = await db.query<PressOnSheet>(
    `select v.clamp_max_kn as "clampMaxKn",
       (select name from bolster where press_id = p.id and mounted) as "bolsterName"
     from press p join lateral
       (select clamp_max_kn from press_version where press_id = p.id order by version desc limit 1) v on true
     order by p.created_at, p.id limit 1`,
  );
  return row;
}

/** A press by id, in its latest version. */
export async function pressById(db: Queryable, pressId: string): Promise<Press | undefined> {
  const [row] = await db.query<PressVersionRow>(`${LATEST_PRESS_VERSION} where p.id = $1`, [pressId]);
  return row && pressOf(row);
}

/** The bolster that is in the press now, or `undefined` while none is. */
export async function mountedBolster(db: Queryable): Promise<Bolster | undefined> {
  const [row] = await db.query<BolsterVersionRow>(
    `${LATEST_BOLSTER_VERSION} join press p on p.id = b.press_id
     where b.mounted order by p.created_at, p.id limit 1`,
  );
  return row && bolsterOf(row);
}

/** A bolster by id, in its latest version. */
export async function bolsterById(db: Queryable, bolsterId: string): Promise<Bolster | undefined> {
  const [row] = await db.query<BolsterVersionRow>(`${LATEST_BOLSTER_VERSION} where b.id = $1`, [bolsterId]);
  return row && bolsterOf(row);
}

/** A bolster as it was in one version: old verdicts stand on it. */
export async function bolsterVersion(
  db: Queryable,
  bolsterId: string,
  version: number,
): Promise<Bolster | undefined> {
  const [row] = await db.query<BolsterVersionRow>(
    `${BOLSTER} join bolster_version v on v.bolster_id = b.id where b.id = $1 and v.version = $2`,
    [bolsterId, version],
  );
  return row && bolsterOf(row);
}

const BOLSTER_ON_PRESS = `select b.press_id, b.name, b.mounted, v.*, to_jsonb(o) as press from bolster b
  cross join lateral (select * from bolster_version where bolster_id = b.id order by version desc limit 1) v
  join press p on p.id = b.press_id
  cross join lateral (select p.name, pv.* from press_version pv
    where pv.press_id = p.id order by pv.version desc limit 1) o`;

/** A bolster (the mounted one for null) and the press it belongs to, in their latest versions, at one reading. */
export async function bolsterOnPress(
  db: Queryable,
  bolsterId: string | null,
): Promise<{ readonly bolster: Bolster; readonly press: Press } | undefined> {
  type Row = BolsterVersionRow & { readonly press: PressVersionRow };
  const [row] =
    bolsterId === null
      ? await db.query<Row>(`${BOLSTER_ON_PRESS} where b.mounted order by p.created_at, p.id limit 1`)
      : await db.query<Row>(`${BOLSTER_ON_PRESS} where b.id = $1`, [bolsterId]);
  return row && { bolster: bolsterOf(row), press: pressOf(row.press) };
}

/**
 * Keeps the mounted bolster and its press as they are until the transaction ends, together with others who do. The
 * press first, as who mounts does: else each could have what the other waits for.
 */
export async function mountedStands(tx: Tx): Promise<void> {
  await tx.query(
    `with held as materialized (select id from press order by created_at, id for share)
     select from bolster b join held on held.id = b.press_id where b.mounted for share of b`,
  );
}

/** Every bolster in its latest version, the mounted one first. */
export async function bolsters(db: Queryable): Promise<readonly Bolster[]> {
  const rows = await db.query<BolsterVersionRow>(
    `${LATEST_BOLSTER_VERSION} order by b.mounted desc, b.created_at, b.id`,
  );
  return rows.map(bolsterOf);
}

function bolsterOf(row: BolsterVersionRow): Bolster {
  return {
    id: row.bolster_id,
    version: row.version,
    name: row.name,
    pressId: row.press_id,
    mounted: row.mounted,
    facts: bolsterFactsOf(row),
  };
}

function pressOf(row: PressVersionRow): Press {
  return { id: row.press_id, version: row.version, name: row.name, facts: pressFactsOf(row) };
}
