import type { Queryable } from '../database/queryable.js';
import type { BolsterFacts, PressFacts } from '../engineering/press-facts.js';

export interface NewPress {
  readonly name: string;
  readonly facts: PressFacts;
  readonly at: Date;
}

/** Adds a press in its first version, and the piece of equipment by which it is reserved. */
export async function addPress(db: Queryable, { name, facts, at }: NewPress): Promise<string> {
  const [press] = await db.query<{ id: string }>(
    'insert into press (name, created_at) values ($1, $2) returning id',
    [name, at],
  );
  if (press === undefined) throw new Error('A new press came back without an id.');
  const { clamp, injection } = facts;
  await db.query(
    `insert into press_version (press_id, version, clamp_kind, clamp_min_kn, clamp_max_kn, tie_bars_width_mm,
       tie_bars_height_mm, platens_guided, eccentric_moment_nmm, opening_stroke_mm, screw_diameter_mm, shot_cm3,
       max_pressure_mpa, max_flow_cm3_per_s, barrel_shots, nozzle_orifice_mm, created_at)
     values ($1, 1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16)`,
    [
      press.id,
      clamp.kind,
      clamp.minKn,
      clamp.maxKn,
      clamp.tieBarsWidthMm,
      clamp.tieBarsHeightMm,
      clamp.platensGuided,
      clamp.eccentricMomentNmm,
      facts.openingStrokeMm,
      injection.screwDiameterMm,
      injection.shotCm3,
      injection.maxPressureMpa,
      injection.maxFlowCm3PerS,
      injection.barrelShots,
      injection.nozzleOrificeMm,
      at,
    ],
  );
  await db.query(`insert into equipment (kind, name, press_id, created_at) values ('press', $1, $2, $3)`, [
    name,
    press.id,
    at,
  ]);
  return press.id;
}

export interface NewBolster {
  readonly pressId: string;
  readonly name: string;
  readonly mounted: boolean;
  readonly facts: BolsterFacts;
  readonly at: Date;
}

/** Adds a bolster in its first version. */
export async function addBolster(
  db: Queryable,
  { pressId, name, mounted, facts, at }: NewBolster,
): Promise<string> {
  const [bolster] = await db.query<{ id: string }>(
    'insert into bolster (press_id, name, mounted, created_at) values ($1, $2, $3, $4) returning id',
    [pressId, name, mounted, at],
  );
  if (bolster === undefined) throw new Error('A new bolster came back without an id.');
  const { face, sprue } = facts;
  const holes = facts.holes.map(({ at: place, thread, depthMm, positionMm }) => ({
    xMm: place.x,
    yMm: place.y,
    thread,
    depthMm,
    positionMm,
  }));
  await db.query(
    `insert into bolster_version (bolster_id, version, face_width_mm, face_height_mm, face_centre_x_mm,
       face_centre_y_mm, face_material, allowable_face_pressure_mpa, holes, face_openings, sprue_length_mm,
       sprue_nozzle_end_mm, sprue_parting_face_mm, minimum_daylight_mm, largest_stack_mm, created_at)
     values ($1, 1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)`,
    [
      bolster.id,
      face.widthMm,
      face.heightMm,
      face.centre.x,
      face.centre.y,
      facts.faceMaterial,
      facts.allowableFacePressureMpa,
      JSON.stringify(holes),
      JSON.stringify(facts.faceOpenings),
      sprue.lengthMm,
      sprue.nozzleEndDiameterMm,
      sprue.partingFaceDiameterMm,
      facts.minimumDaylightMm,
      facts.largestStackMm,
      at,
    ],
  );
  return bolster.id;
}
