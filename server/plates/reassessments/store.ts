import type { Queryable } from '../../database/queryable.js';
import type { Tx } from '../../database/transaction.js';
import { dataVersion, engineVersion } from '../../engineering/version.js';
import type { CheckWorse } from '../../shop/foreseen.js';

/** What of a report's inputs can be another. */
export const GROUND_PARTS = ['mounted', 'bolster', 'press', 'rules', 'data', 'engine'] as const;
export type GroundPart = (typeof GROUND_PARTS)[number];

/** A plate whose present report says worse than the one it stood on. */
export interface Reassessment {
  readonly plateId: string;
  readonly plateName: string;
  readonly ownerId: string;
  readonly ownerName: string;
  readonly revision: number;
  readonly polymer: string;
  readonly worse: readonly CheckWorse[];
  /** What is another than it was in the report before. */
  readonly changed: readonly GroundPart[];
  readonly foundAt: Date;
}

/**
 * Writes down that a report says worse than the one before it, once.
 *
 * @returns false where that was written down already
 */
export async function insertReassessment(
  tx: Tx,
  made: {
    readonly beforeId: string;
    readonly afterId: string;
    readonly worse: readonly CheckWorse[];
    readonly at: Date;
  },
): Promise<boolean> {
  const rows = await tx.query(
    `insert into reassessment (before_id, after_id, worse, found_at) values ($1, $2, $3, $4)
     on conflict on constraint reassessment_once do nothing returning id`,
    [made.beforeId, made.afterId, JSON.stringify(made.worse), made.at],
  );
  return rows.length > 0;
}

/**
 * What got worse and still is: of every plate, or of one. Left out is what no longer counts: reports of ground that is
 * not the present one, revisions that were followed, plates that are retired, and what a steward has accepted since.
 */
export async function reassessmentsNow(
  db: Queryable,
  now: Date,
  plateId: string | null = null,
): Promise<readonly Reassessment[]> {
  return await db.query<Reassessment>(
    `select distinct on (p.id, a.polymer) p.id as "plateId", p.name as "plateName", p.owner_id as "ownerId",
       m.display_name as "ownerName", a.revision, a.polymer, s.worse, s.found_at as "foundAt",
       array_remove(array[
         case when a.bolster_id <> b.bolster_id then 'mounted' end,
         case when a.bolster_id = b.bolster_id and a.bolster_version <> b.bolster_version then 'bolster' end,
         case when (a.press_id, a.press_version) <> (b.press_id, b.press_version) then 'press' end,
         case when a.shop_rule_version <> b.shop_rule_version then 'rules' end,
         case when a.data_version <> b.data_version then 'data' end,
         case when a.engine_version <> b.engine_version then 'engine' end], null) as changed
     from reassessment s
     join plate_report b on b.id = s.before_id
     join plate_report a on a.id = s.after_id
     join plate p on p.id = a.plate_id and p.latest_revision = a.revision and p.retired_at is null
     join member m on m.id = p.owner_id
     join bolster o on o.id = a.bolster_id and o.mounted
     where ($2::uuid is null or p.id = $2)
       and a.bolster_version = (select max(version) from bolster_version where bolster_id = a.bolster_id)
       and a.press_version = (select max(version) from press_version where press_id = a.press_id)
       and a.data_version = $3 and a.engine_version = $4
       and (a.shop_rule_version = (select version from shop_rule where valid_from <= $1
           order by valid_from desc, version desc limit 1)
         or exists (select from shop_rule where version = a.shop_rule_version and valid_from > $1))
       and not exists (select from clearance_report where report_id = a.id)
     order by p.id, a.polymer, s.id desc`,
    [now, plateId, dataVersion, engineVersion],
  );
}
