import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import type { Verdict } from '../engineering/finding.js';
import type { PlateFacts } from '../engineering/press-facts.js';
import type { Place } from '../http/cursor.js';

export interface Plate {
  readonly id: string;
  readonly ownerId: string;
  readonly name: string;
  /** What its owner lets others do with it. */
  readonly sharing: 'nobody' | 'see' | 'run';
  readonly latestRevision: number;
  readonly createdAt: Date;
  readonly ownerName: string;
  /** Nobody revises or shares it any more, until a steward gives it to somebody. */
  readonly ownerLeft: boolean;
  /** Where it lies, in the owner's words: "rack B, shelf 2". */
  readonly place: string | null;
  readonly condition: PlateCondition;
  readonly conditionNote: string | null;
  /** Null while it is used; a retired plate is neither booked nor revised. */
  readonly retiredAt: Date | null;
}

export const PLATE_CONDITIONS = ['not-cut', 'good', 'worn', 'damaged'] as const;
export type PlateCondition = (typeof PLATE_CONDITIONS)[number];

/** The facts of a revision, with the facing plate and packers of the rack that it is clamped with. */
export interface KeptFacts extends PlateFacts {
  readonly facingPartId: string | null;
  readonly packerPartIds: readonly string[];
}

/** One drawing with its facts, without the drawing's bytes. */
export interface Revision {
  readonly plateId: string;
  readonly revision: number;
  readonly fileName: string;
  readonly dxfSha256: string;
  readonly facts: KeptFacts;
  /** What its owner says about it. */
  readonly note: string | null;
  /** Who handed it in: the plate's owner then. */
  readonly createdBy: string;
  readonly createdAt: Date;
}

/** All that goes into a report: the same key gives the same report, and is stored once. */
export interface ReportKey {
  readonly plateId: string;
  readonly revision: number;
  readonly bolsterId: string;
  readonly bolsterVersion: number;
  readonly pressId: string;
  readonly pressVersion: number;
  readonly polymer: string;
  readonly shopRuleVersion: number;
  readonly dataVersion: string;
  readonly engineVersion: string;
}

export interface StoredReport {
  readonly id: string;
  readonly verdict: Verdict;
  readonly createdAt: Date;
  /** A `CheckReport` as JSON. */
  readonly json: string;
}

const PLATE = `id, owner_id as "ownerId", name, sharing, latest_revision as "latestRevision",
  created_at as "createdAt", place, condition, condition_note as "conditionNote", retired_at as "retiredAt",
  (select display_name from member where member.id = owner_id) as "ownerName",
  (select state = 'left' from member where member.id = owner_id) as "ownerLeft"`;

/** What facts that were kept before it could be said stand for. */
const FACTS_UNSAID = `'{"draftDeg": null, "cutters": [], "screwGroups": [],
  "facingPartId": null, "packerPartIds": []}'::jsonb`;

const REVISION = `plate_id as "plateId", revision, file_name as "fileName", dxf_sha256 as "dxfSha256",
  ${FACTS_UNSAID} || facts as facts, note, created_by as "createdBy", created_at as "createdAt"`;

const OF_KEY = `plate_id = $1 and revision = $2 and bolster_id = $3 and bolster_version = $4 and press_id = $5
  and press_version = $6 and polymer = $7 and shop_rule_version = $8 and data_version = $9 and engine_version = $10`;

export async function plateById(db: Queryable, plateId: string): Promise<Plate | undefined> {
  const [plate] = await db.query<Plate>(`select ${PLATE} from plate where id = $1`, [plateId]);
  return plate;
}

/** The plate, held so that no revision can be added before this transaction ends. */
export async function plateHeld(tx: Tx, plateId: string): Promise<Plate | undefined> {
  const [plate] = await tx.query<Plate>(`select ${PLATE} from plate where id = $1 for share`, [plateId]);
  return plate;
}

/** The plate, held so that this transaction alone may add a revision. */
export async function plateToRevise(tx: Tx, plateId: string): Promise<Plate | undefined> {
  const [plate] = await tx.query<Plate>(`select ${PLATE} from plate where id = $1 for no key update`, [
    plateId,
  ]);
  return plate;
}

/** A plate in a list that may hold other people's. */
export interface ListedPlate extends Plate {
  /** For production, on the bolster that is mounted. */
  readonly cleared: boolean;
}

/** Whose plates a list holds: one's own, what others share with one, or everybody's. */
export type PlatesOf =
  | { readonly ownedBy: string }
  | { readonly sharedWith: string }
  | { readonly everybodys: true };

/**
 * Plates newest first, from after the given place on.
 *
 * @param cleared only those whose latest revision is cleared for production on the mounted bolster, or those whose
 *   is not; null for all
 */
export async function visiblePlates(
  db: Queryable,
  of: PlatesOf,
  after: Place | null,
  limit: number,
  cleared: boolean | null = null,
): Promise<readonly ListedPlate[]> {
  const owned = 'ownedBy' in of ? of.ownedBy : null;
  const shared = 'sharedWith' in of ? of.sharedWith : null;
  return await db.query<ListedPlate>(
    `select * from (
       select ${PLATE}, created_at,
         coalesce((select clearance_reached(plate.id, latest_revision, v.bolster_id, max(v.version)) = 'production'
           from bolster b join bolster_version v on v.bolster_id = b.id where b.mounted
           group by v.bolster_id limit 1), false) as cleared
       from plate
       where ($1::uuid is null or owner_id = $1)
         and ($6::uuid is null or owner_id <> $6 and sharing <> 'nobody')
         and ($2::timestamptz is null or (created_at, id) < ($2, $3::uuid))) as listed
     where $5::boolean is null or cleared = $5
     order by created_at desc, id desc limit $4`,
    [owned, after?.at ?? null, after?.id ?? null, limit, cleared, shared],
  );
}

export async function revisionOf(
  db: Queryable,
  plateId: string,
  revision: number,
): Promise<Revision | undefined> {
  const [row] = await db.query<Revision>(
    `select ${REVISION} from plate_revision where plate_id = $1 and revision = $2`,
    [plateId, revision],
  );
  return row;
}

/** Every revision of a plate, latest first. */
export async function revisionsOf(db: Queryable, plateId: string): Promise<readonly Revision[]> {
  return await db.query<Revision>(
    `select ${REVISION} from plate_revision where plate_id = $1 order by revision desc`,
    [plateId],
  );
}

/** The drawing's bytes as they were handed in. */
export async function drawingOf(
  db: Queryable,
  plateId: string,
  revision: number,
): Promise<{ readonly dxf: Buffer; readonly fileName: string } | undefined> {
  const [row] = await db.query<{ dxf: Buffer; fileName: string }>(
    `select dxf, file_name as "fileName" from plate_revision where plate_id = $1 and revision = $2`,
    [plateId, revision],
  );
  return row;
}

export async function setPlateName(tx: Tx, plateId: string, name: string): Promise<void> {
  await tx.query('update plate set name = $2 where id = $1', [plateId, name]);
}

export async function setSharing(tx: Tx, plateId: string, sharing: Plate['sharing']): Promise<void> {
  await tx.query('update plate set sharing = $2 where id = $1', [plateId, sharing]);
}

/** Where a plate lies and how it is. */
export type PlateOnRack = Pick<Plate, 'place' | 'condition' | 'conditionNote'>;

export async function setOnRack(tx: Tx, plateId: string, given: PlateOnRack): Promise<void> {
  await tx.query('update plate set place = $2, condition = $3, condition_note = $4 where id = $1', [
    plateId,
    given.place,
    given.condition,
    given.conditionNote,
  ]);
}

export async function setOwner(tx: Tx, plateId: string, ownerId: string): Promise<void> {
  await tx.query('update plate set owner_id = $2 where id = $1', [plateId, ownerId]);
}

/** Null takes the plate up again. */
export async function setRetired(
  tx: Tx,
  plateId: string,
  retired: { readonly at: Date; readonly by: string } | null,
): Promise<void> {
  await tx.query('update plate set retired_at = $2, retired_by = $3 where id = $1', [
    plateId,
    retired?.at ?? null,
    retired?.by ?? null,
  ]);
}

/** A revision of one of the member's own plates that holds a drawing. */
export interface SameDrawing {
  readonly dxfSha256: string;
  readonly plateId: string;
  readonly name: string;
  readonly revision: number;
}

/** Where each of these very files is kept already among a member's own plates, the first of each. */
export async function drawingsKept(
  db: Queryable,
  ownerId: string,
  hashes: readonly string[],
): Promise<readonly SameDrawing[]> {
  return await db.query<SameDrawing>(
    `select distinct on (r.dxf_sha256) r.dxf_sha256 as "dxfSha256", p.id as "plateId", p.name, r.revision
     from plate_revision r join plate p on p.id = r.plate_id
     where r.dxf_sha256 = any($2::text[]) and p.owner_id = $1
     order by r.dxf_sha256, p.created_at, p.id, r.revision`,
    [ownerId, hashes],
  );
}

/**
 * A member's plate of this name that holds this very drawing with these facts already. Who asks for the same name
 * at the same time waits until this transaction ends.
 */
export async function sameKept(
  tx: Tx,
  asked: {
    readonly ownerId: string;
    readonly name: string;
    readonly dxfSha256: string;
    readonly facts: KeptFacts;
  },
): Promise<string | undefined> {
  const { ownerId, name, dxfSha256, facts } = asked;
  await tx.query('select pg_advisory_xact_lock(hashtextextended($1, 0))', [`plate ${ownerId} ${name}`]);
  const [row] = await tx.query<{ id: string }>(
    `select p.id from plate p join plate_revision r on r.plate_id = p.id
     where p.owner_id = $1 and p.name = $2 and r.dxf_sha256 = $3 and ${FACTS_UNSAID} || r.facts = $4
     order by p.created_at limit 1`,
    [ownerId, name, dxfSha256, JSON.stringify(facts)],
  );
  return row?.id;
}

/** Whether a revision holds this very drawing with these facts. */
export async function isRevision(
  tx: Tx,
  plateId: string,
  revision: number,
  { dxfSha256, facts }: { readonly dxfSha256: string; readonly facts: KeptFacts },
): Promise<boolean> {
  const rows = await tx.query(
    `select from plate_revision where plate_id = $1 and revision = $2 and dxf_sha256 = $3
       and ${FACTS_UNSAID} || facts = $4`,
    [plateId, revision, dxfSha256, JSON.stringify(facts)],
  );
  return rows.length > 0;
}

export interface NewRevision {
  readonly dxf: Uint8Array;
  readonly dxfSha256: string;
  readonly fileName: string;
  readonly facts: KeptFacts;
  readonly note: string | null;
  readonly createdBy: string;
  readonly createdAt: Date;
}

export async function insertPlate(
  tx: Tx,
  plate: { readonly ownerId: string; readonly name: string; readonly createdAt: Date },
): Promise<Plate> {
  const [row] = await tx.query<Plate>(
    `insert into plate (owner_id, name, created_at) values ($1, $2, $3) returning ${PLATE}`,
    [plate.ownerId, plate.name, plate.createdAt],
  );
  if (row === undefined) throw new Error('An inserted plate did not come back.');
  return row;
}

/** A trigger moves the plate's latest revision on, and refuses a number that does not follow. */
export async function insertRevision(
  tx: Tx,
  plateId: string,
  revision: number,
  given: NewRevision,
): Promise<void> {
  await tx.query(
    `insert into plate_revision (plate_id, revision, dxf, dxf_sha256, file_name, facts, created_by, created_at, note)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
    [
      plateId,
      revision,
      given.dxf,
      given.dxfSha256,
      given.fileName,
      JSON.stringify(given.facts),
      given.createdBy,
      given.createdAt,
      given.note,
    ],
  );
}

/** The report stored for exactly this key. */
export async function reportAt(db: Queryable, key: ReportKey): Promise<StoredReport | undefined> {
  const [row] = await db.query<StoredReport>(
    `select id, verdict, created_at as "createdAt", report::text as json from plate_report where ${OF_KEY}`,
    keyValues(key),
  );
  return row;
}

/** What the newest report says of a plate's latest revision. */
export interface PlateVerdict {
  readonly plateId: string;
  readonly polymer: string;
  readonly verdict: Verdict;
}

/** The newest report of each plate's latest revision on one ground, with whatever resin; none where there is none. */
export async function verdictsOf(
  db: Queryable,
  plateIds: readonly string[],
  key: Omit<ReportKey, 'plateId' | 'revision' | 'polymer'>,
): Promise<readonly PlateVerdict[]> {
  return await db.query<PlateVerdict>(
    `select distinct on (r.plate_id) r.plate_id as "plateId", r.polymer, r.verdict
     from plate_report r join plate p on p.id = r.plate_id and p.latest_revision = r.revision
     where r.plate_id = any($1::uuid[]) and r.bolster_id = $2 and r.bolster_version = $3 and r.press_id = $4
       and r.press_version = $5 and r.shop_rule_version = $6 and r.data_version = $7 and r.engine_version = $8
     order by r.plate_id, r.created_at desc, r.id`,
    [
      plateIds,
      key.bolsterId,
      key.bolsterVersion,
      key.pressId,
      key.pressVersion,
      key.shopRuleVersion,
      key.dataVersion,
      key.engineVersion,
    ],
  );
}

/** What a booking asks of a report, without its body: every check that is not clear, in the report's order. */
export interface ReportStanding {
  readonly id: string;
  readonly verdict: Verdict;
  readonly notClear: readonly { readonly check: string; readonly verdict: Verdict }[];
}

export async function standingOf(db: Queryable, key: ReportKey): Promise<ReportStanding | undefined> {
  const [row] = await db.query<ReportStanding>(
    `select id, verdict, case when verdict = 'clear' then '[]' else (
       select coalesce(jsonb_agg(jsonb_build_object('check', f ->> 'check', 'verdict', f ->> 'verdict') order by n), '[]')
       from jsonb_array_elements(report -> 'findings') with ordinality as _(f, n)
       where f ->> 'verdict' <> 'clear') end as "notClear"
     from plate_report where ${OF_KEY}`,
    keyValues(key),
  );
  return row;
}

/** Stores a report once: whoever comes second with the same key finds the first one's and adds nothing. */
export async function insertReport(
  db: Queryable,
  key: ReportKey,
  verdict: Verdict,
  json: string,
  createdAt: Date,
): Promise<void> {
  await db.query(
    `insert into plate_report (plate_id, revision, bolster_id, bolster_version, press_id, press_version, polymer,
       shop_rule_version, data_version, engine_version, verdict, report, created_at)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)
     on conflict on constraint plate_report_once do nothing`,
    [...keyValues(key), verdict, json, createdAt],
  );
}

function keyValues(key: ReportKey): readonly (string | number)[] {
  return [
    key.plateId,
    key.revision,
    key.bolsterId,
    key.bolsterVersion,
    key.pressId,
    key.pressVersion,
    key.polymer,
    key.shopRuleVersion,
    key.dataVersion,
    key.engineVersion,
  ];
}

/** The polymers in which a revision was ever checked. */
export async function polymersChecked(
  db: Queryable,
  plateId: string,
  revision: number,
): Promise<readonly string[]> {
  const rows = await db.query<{ polymer: string }>(
    'select distinct polymer from plate_report where plate_id = $1 and revision = $2',
    [plateId, revision],
  );
  return rows.map(({ polymer }) => polymer);
}

/** Reports by their ids, as a booking asks of them. */
export async function standingsOf(
  db: Queryable,
  reportIds: readonly string[],
): Promise<ReadonlyMap<string, ReportStanding>> {
  const rows = await db.query<ReportStanding>(
    `select id, verdict, coalesce((
       select jsonb_agg(jsonb_build_object('check', f ->> 'check', 'verdict', f ->> 'verdict') order by n)
       from jsonb_array_elements(report -> 'findings') with ordinality as _(f, n)
       where f ->> 'verdict' <> 'clear'), '[]') as "notClear"
     from plate_report where id = any($1::uuid[])`,
    [reportIds],
  );
  return new Map(rows.map((row) => [row.id, row]));
}

/**
 * Keeps every report of one ground once more under another version of the shop rules, for a change of them that no
 * check asks about: the same inputs give the same report.
 */
export async function copyReports(
  tx: Tx,
  ground: Omit<ReportKey, 'plateId' | 'revision' | 'polymer'>,
  toShopRuleVersion: number,
  at: Date,
): Promise<void> {
  await tx.query(
    `insert into plate_report (plate_id, revision, bolster_id, bolster_version, press_id, press_version, polymer,
       shop_rule_version, data_version, engine_version, verdict, report, created_at)
     select plate_id, revision, bolster_id, bolster_version, press_id, press_version, polymer, $8, data_version,
       engine_version, verdict, report, $9
     from plate_report where bolster_id = $1 and bolster_version = $2 and press_id = $3 and press_version = $4
       and shop_rule_version = $5 and data_version = $6 and engine_version = $7
     on conflict on constraint plate_report_once do nothing`,
    [
      ground.bolsterId,
      ground.bolsterVersion,
      ground.pressId,
      ground.pressVersion,
      ground.shopRuleVersion,
      ground.dataVersion,
      ground.engineVersion,
      toShopRuleVersion,
      at,
    ],
  );
}
