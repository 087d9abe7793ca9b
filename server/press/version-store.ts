import type { Queryable, SqlValue } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import type { BolsterFacts, PressFacts } from '../engineering/press-facts.js';
import { type BolsterVersionRow, bolsterFactsOf, type PressVersionRow, pressFactsOf } from './facts.js';

/** Who made a version, and why; both null for the one that came with the house. */
interface Told {
  readonly version: number;
  readonly at: Date;
  readonly madeBy: string | null;
  readonly why: string | null;
}

type Columns = { readonly [column: string]: SqlValue };

/**
 * Adds a version of the press.
 *
 * @throws pg.DatabaseError 23505 `press_version_pkey` when somebody else made that version meanwhile
 */
export async function insertPressVersion(
  db: Queryable,
  { pressId, facts, ...told }: Told & { readonly pressId: string; readonly facts: PressFacts },
): Promise<void> {
  const { clamp, injection } = facts;
  await insertInto(db, 'press_version', {
    press_id: pressId,
    ...toldColumns(told),
    clamp_kind: clamp.kind,
    clamp_min_kn: clamp.minKn,
    clamp_max_kn: clamp.maxKn,
    tie_bars_width_mm: clamp.tieBarsWidthMm,
    tie_bars_height_mm: clamp.tieBarsHeightMm,
    platens_guided: clamp.platensGuided,
    eccentric_moment_nmm: clamp.eccentricMomentNmm,
    opening_stroke_mm: facts.openingStrokeMm,
    screw_diameter_mm: injection.screwDiameterMm,
    shot_cm3: injection.shotCm3,
    max_pressure_mpa: injection.maxPressureMpa,
    max_flow_cm3_per_s: injection.maxFlowCm3PerS,
    barrel_shots: injection.barrelShots,
    nozzle_orifice_mm: injection.nozzleOrificeMm,
    intensification: facts.intensification,
    platen_thickness_mm: facts.platenThicknessMm,
    dry_cycle_s: facts.dryCycleS,
    chiller_flow_l_per_min: facts.chiller?.flowLPerMin ?? null,
    chiller_water_c: facts.chiller?.waterC ?? null,
  });
}

/**
 * Adds a version of a bolster.
 *
 * @throws pg.DatabaseError 23505 `bolster_version_pkey` when somebody else made that version meanwhile
 */
export async function insertBolsterVersion(
  db: Queryable,
  { bolsterId, facts, ...told }: Told & { readonly bolsterId: string; readonly facts: BolsterFacts },
): Promise<void> {
  const { face, sprue } = facts;
  const holes = facts.holes.map(({ at, thread, depthMm, positionMm }) => ({
    xMm: at.x,
    yMm: at.y,
    thread,
    depthMm,
    positionMm,
  }));
  await insertInto(db, 'bolster_version', {
    bolster_id: bolsterId,
    ...toldColumns(told),
    face_width_mm: face.widthMm,
    face_height_mm: face.heightMm,
    face_centre_x_mm: face.centre.x,
    face_centre_y_mm: face.centre.y,
    face_material: facts.faceMaterial,
    allowable_face_pressure_mpa: facts.allowableFacePressureMpa,
    holes: JSON.stringify(holes),
    face_openings: JSON.stringify(facts.faceOpenings),
    sprue_length_mm: sprue.lengthMm,
    sprue_nozzle_end_mm: sprue.nozzleEndDiameterMm,
    sprue_parting_face_mm: sprue.partingFaceDiameterMm,
    minimum_daylight_mm: facts.minimumDaylightMm,
    largest_stack_mm: facts.largestStackMm,
    half_moving_mm: facts.halfThicknessMm?.moving ?? null,
    half_fixed_mm: facts.halfThicknessMm?.fixed ?? null,
    half_material: facts.halfMaterial,
  });
}

function toldColumns({ version, at, madeBy, why }: Told): Columns {
  return { version, created_at: at, made_by: madeBy, why };
}

/** One row; the names of table and columns are those above, never anybody's input. */
async function insertInto(db: Queryable, table: string, columns: Columns): Promise<void> {
  const names = Object.keys(columns);
  const places = names.map((_, i) => `$${i + 1}`);
  await db.query(
    `insert into ${table} (${names.join(', ')}) values (${places.join(', ')})`,
    Object.values(columns),
  );
}

/**
 * Holds every press until the transaction ends: versions, mountings and bolsters come one after the other, and who
 * books waits.
 */
export async function pressHeld(tx: Tx): Promise<void> {
  await tx.query('select from press order by created_at, id for no key update');
}

/** A version as its history tells it. */
export interface VersionTold<Facts> {
  readonly version: number;
  readonly facts: Facts;
  readonly madeBy: string | null;
  readonly why: string | null;
  readonly at: Date;
}

interface ToldRow {
  readonly made_by_name: string | null;
  readonly why: string | null;
  readonly created_at: Date;
}

/** Versions of the press, the latest first. */
export async function pressVersions(
  db: Queryable,
  pressId: string,
): Promise<readonly VersionTold<PressFacts>[]> {
  const rows = await db.query<PressVersionRow & ToldRow>(
    `select p.name, v.*, m.display_name as made_by_name from press p join press_version v on v.press_id = p.id
     left join member m on m.id = v.made_by where p.id = $1 order by v.version desc limit 100`,
    [pressId],
  );
  return rows.map((row) => ({ ...toldOf(row), facts: pressFactsOf(row) }));
}

/** Versions of a bolster, the latest first. */
export async function bolsterVersions(
  db: Queryable,
  bolsterId: string,
): Promise<readonly VersionTold<BolsterFacts>[]> {
  const rows = await db.query<BolsterVersionRow & ToldRow>(
    `select b.press_id, b.name, b.mounted, v.*, m.display_name as made_by_name from bolster b
     join bolster_version v on v.bolster_id = b.id left join member m on m.id = v.made_by
     where b.id = $1 order by v.version desc limit 100`,
    [bolsterId],
  );
  return rows.map((row) => ({ ...toldOf(row), facts: bolsterFactsOf(row) }));
}

function toldOf({ version, made_by_name, why, created_at }: ToldRow & { readonly version: number }) {
  return { version, madeBy: made_by_name, why, at: created_at };
}
