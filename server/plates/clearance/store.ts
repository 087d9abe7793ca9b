import type { Queryable } from '../../database/queryable.js';
import type { Tx } from '../../database/transaction.js';
import type { CheckName, Verdict } from '../../engineering/finding.js';
import type { KeptReadings } from './readings.js';
import type { Decision, Reached, Step } from './steps.js';

/** What a clearance is about: a revision on a version of a bolster. */
export interface ClearedThing {
  readonly plateId: string;
  readonly revision: number;
  readonly bolsterId: string;
  readonly bolsterVersion: number;
}

/** A finding that is no stop but not clear either, and was accepted as it is. */
export interface AcceptedCaution {
  readonly check: CheckName;
  readonly verdict: Verdict;
  /** What was said about this one; null where the decision's own note covers it. */
  readonly note: string | null;
}

/** The report of one polymer that a production clearance stands on. */
export interface AcceptedReport {
  readonly polymer: string;
  readonly reportId: string;
  readonly cautions: readonly AcceptedCaution[];
}

/** One decision, with who made it. */
export interface Clearance extends ClearedThing {
  readonly id: string;
  readonly bolsterName: string;
  readonly step: Step;
  readonly decision: Decision;
  /** Null where nothing was measured. */
  readonly readings: KeptReadings | null;
  readonly trialRunId: string | null;
  readonly note: string | null;
  readonly decidedBy: string;
  readonly decidedByName: string;
  readonly decidedAt: Date;
  /** In the order of their polymers; empty but for a production clearance. */
  readonly reports: readonly AcceptedReport[];
}

const CLEARANCE = `select c.id, c.plate_id as "plateId", c.revision, c.bolster_id as "bolsterId",
  c.bolster_version as "bolsterVersion", b.name as "bolsterName", c.step, c.decision,
  nullif(c.readings, '{}') as readings, c.trial_run_id as "trialRunId", c.note,
  c.decided_by as "decidedBy", m.display_name as "decidedByName", c.decided_at as "decidedAt",
  coalesce((select jsonb_agg(jsonb_build_object('polymer', r.polymer, 'reportId', r.report_id, 'cautions', r.cautions)
    order by r.polymer) from clearance_report r where r.clearance_id = c.id), '[]') as reports
  from clearance c join bolster b on b.id = c.bolster_id join member m on m.id = c.decided_by`;

/** Every decision about a plate, latest first: of one revision, or of all for null. */
export async function clearancesOf(
  db: Queryable,
  plateId: string,
  revision: number | null,
): Promise<readonly Clearance[]> {
  return await db.query<Clearance>(
    `${CLEARANCE} where c.plate_id = $1 and ($2::integer is null or c.revision = $2) order by c.place desc`,
    [plateId, revision],
  );
}

/**
 * The decisions about a revision on a version of a bolster, latest first; none of one that is not the latest revision
 * of its plate, because nothing stands of it.
 */
export async function clearancesStanding(
  db: Queryable,
  { plateId, revision, bolsterId, bolsterVersion }: ClearedThing,
): Promise<readonly Clearance[]> {
  return await db.query<Clearance>(
    `${CLEARANCE} join plate p on p.id = c.plate_id and p.latest_revision = c.revision
     where c.plate_id = $1 and c.revision = $2 and c.bolster_id = $3 and c.bolster_version = $4
     order by c.place desc`,
    [plateId, revision, bolsterId, bolsterVersion],
  );
}

export interface NewClearance extends ClearedThing {
  readonly step: Step;
  readonly decision: Decision;
  readonly readings: KeptReadings | null;
  readonly trialRunId: string | null;
  readonly note: string | null;
  readonly by: string;
  readonly at: Date;
  readonly reports: readonly AcceptedReport[];
}

/**
 * Adds a decision with the reports it stands on.
 *
 * @throws pg.DatabaseError PS005 `clearance_never_own`, `clearance_never_own_drawing`; PS002 `clearance_latest_revision`, `clearance_latest_bolster`,
 *   `clearance_in_order`; PS003 `clearance_report_fits`
 */
export async function insertClearance(tx: Tx, made: NewClearance): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `insert into clearance (plate_id, revision, bolster_id, bolster_version, step, decision, readings, trial_run_id,
       note, decided_by, decided_at)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11) returning id`,
    [
      made.plateId,
      made.revision,
      made.bolsterId,
      made.bolsterVersion,
      made.step,
      made.decision,
      JSON.stringify(made.readings ?? {}),
      made.trialRunId,
      made.note,
      made.by,
      made.at,
    ],
  );
  if (row === undefined) throw new Error('An inserted clearance did not come back.');
  for (const { polymer, reportId, cautions } of made.reports) {
    await tx.query(
      'insert into clearance_report (clearance_id, polymer, report_id, cautions) values ($1, $2, $3, $4)',
      [row.id, polymer, reportId, JSON.stringify(cautions)],
    );
  }
  return row.id;
}

/** How far plates have come: of the latest revision of each, on one version of a bolster. */
export async function stepsReachedBy(
  db: Queryable,
  plateIds: readonly string[],
  { bolsterId, bolsterVersion }: Pick<ClearedThing, 'bolsterId' | 'bolsterVersion'>,
): Promise<ReadonlyMap<string, Reached>> {
  const rows = await db.query<{ plateId: string; reached: Reached }>(
    `select id as "plateId", clearance_reached(id, latest_revision, $2, $3) as reached
     from plate where id = any($1::uuid[])`,
    [plateIds, bolsterId, bolsterVersion],
  );
  return new Map(rows.map(({ plateId, reached }) => [plateId, reached]));
}

/** Plates in use of whose latest revision some step stands on a version of a bolster. */
export async function platesReachedOn(
  db: Queryable,
  { bolsterId, bolsterVersion }: Pick<ClearedThing, 'bolsterId' | 'bolsterVersion'>,
): Promise<readonly { readonly id: string; readonly name: string; readonly ownerId: string }[]> {
  return await db.query(
    `select id, name, owner_id as "ownerId" from plate
     where retired_at is null and clearance_reached(id, latest_revision, $1, $2) <> 'none' order by id`,
    [bolsterId, bolsterVersion],
  );
}

/** A plate that waits for a steward: cut, not retired, its latest revision not through all steps. */
export interface PlateWaiting {
  readonly plateId: string;
  readonly name: string;
  readonly ownerId: string;
  readonly ownerName: string;
  readonly revision: number;
  /** Where it lies. */
  readonly lies: string | null;
  readonly reached: Exclude<Reached, 'production'>;
  /** The last decision about it, or else its revision. */
  readonly since: Date;
}

const WAITING_MAX = 100;

/**
 * Plates that wait for their next step on a version of a bolster, the longest first. One that was refused waits for
 * its owner, and one that is not cut for the mill.
 */
export async function platesWaiting(
  db: Queryable,
  { bolsterId, bolsterVersion }: Pick<ClearedThing, 'bolsterId' | 'bolsterVersion'>,
): Promise<readonly PlateWaiting[]> {
  return await db.query<PlateWaiting>(
    `select p.id as "plateId", p.name, p.owner_id as "ownerId", m.display_name as "ownerName",
       p.latest_revision as revision, p.place as lies, reached, coalesce(c.decided_at, r.created_at) as since
     from plate p join member m on m.id = p.owner_id
     join plate_revision r on r.plate_id = p.id and r.revision = p.latest_revision
     cross join lateral clearance_reached(p.id, p.latest_revision, $1, $2) as reached
     left join lateral (
       select decision, decided_at from clearance
       where plate_id = p.id and revision = p.latest_revision and bolster_id = $1 and bolster_version = $2
       order by place desc limit 1) c on true
     where p.condition <> 'not-cut' and p.retired_at is null and reached <> 'production'
       and (c.decision is null or c.decision <> 'refuse')
     order by since, p.id limit ${WAITING_MAX}`,
    [bolsterId, bolsterVersion],
  );
}
