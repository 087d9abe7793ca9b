import { z } from 'zod';
import type { BolsterFacts, PressFacts } from '../engineering/press-facts.js';

const point = z.object({ x: z.number(), y: z.number() });

/** `bolster_version.holes` as it is stored. */
const storedHoles = z.array(
  z.object({
    xMm: z.number(),
    yMm: z.number(),
    thread: z.string(),
    depthMm: z.number(),
    positionMm: z.number(),
  }),
);

const storedOpenings = z.array(z.array(point));

export interface PressVersionRow {
  readonly press_id: string;
  readonly name: string;
  readonly version: number;
  readonly clamp_kind: 'hydraulic' | 'toggle';
  readonly clamp_min_kn: number;
  readonly clamp_max_kn: number;
  readonly tie_bars_width_mm: number;
  readonly tie_bars_height_mm: number;
  readonly platens_guided: boolean;
  readonly eccentric_moment_nmm: number | null;
  readonly opening_stroke_mm: number;
  readonly screw_diameter_mm: number;
  readonly shot_cm3: number;
  readonly max_pressure_mpa: number;
  readonly max_flow_cm3_per_s: number;
  readonly barrel_shots: number;
  readonly nozzle_orifice_mm: number;
  readonly intensification: number | null;
  readonly platen_thickness_mm: number | null;
  readonly dry_cycle_s: number | null;
  readonly chiller_flow_l_per_min: number | null;
  readonly chiller_water_c: number | null;
}

export interface BolsterVersionRow {
  readonly bolster_id: string;
  readonly press_id: string;
  readonly name: string;
  readonly mounted: boolean;
  readonly version: number;
  readonly face_width_mm: number;
  readonly face_height_mm: number;
  readonly face_centre_x_mm: number;
  readonly face_centre_y_mm: number;
  readonly face_material: string;
  readonly allowable_face_pressure_mpa: number;
  readonly holes: unknown;
  readonly face_openings: unknown;
  readonly sprue_length_mm: number;
  readonly sprue_nozzle_end_mm: number;
  readonly sprue_parting_face_mm: number;
  readonly minimum_daylight_mm: number;
  readonly largest_stack_mm: number;
  readonly half_moving_mm: number | null;
  readonly half_fixed_mm: number | null;
  readonly half_material: string | null;
}

/** A stored press version in the engine's words. */
export function pressFactsOf(row: PressVersionRow): PressFacts {
  const { chiller_flow_l_per_min: flowLPerMin, chiller_water_c: waterC } = row;
  return {
    clamp: {
      kind: row.clamp_kind,
      minKn: row.clamp_min_kn,
      maxKn: row.clamp_max_kn,
      tieBarsWidthMm: row.tie_bars_width_mm,
      tieBarsHeightMm: row.tie_bars_height_mm,
      platensGuided: row.platens_guided,
      eccentricMomentNmm: row.eccentric_moment_nmm,
    },
    openingStrokeMm: row.opening_stroke_mm,
    injection: {
      screwDiameterMm: row.screw_diameter_mm,
      shotCm3: row.shot_cm3,
      maxPressureMpa: row.max_pressure_mpa,
      maxFlowCm3PerS: row.max_flow_cm3_per_s,
      barrelShots: row.barrel_shots,
      nozzleOrificeMm: row.nozzle_orifice_mm,
    },
    intensification: row.intensification,
    platenThicknessMm: row.platen_thickness_mm,
    dryCycleS: row.dry_cycle_s,
    chiller: flowLPerMin === null || waterC === null ? null : { flowLPerMin, waterC },
  };
}

/** A stored bolster version in the engine's words. */
export function bolsterFactsOf(row: BolsterVersionRow): BolsterFacts {
  const { half_moving_mm: moving, half_fixed_mm: fixed } = row;
  return {
    face: {
      widthMm: row.face_width_mm,
      heightMm: row.face_height_mm,
      centre: { x: row.face_centre_x_mm, y: row.face_centre_y_mm },
    },
    faceMaterial: row.face_material,
    allowableFacePressureMpa: row.allowable_face_pressure_mpa,
    holes: storedHoles.parse(row.holes).map(({ xMm, yMm, thread, depthMm, positionMm }) => ({
      at: { x: xMm, y: yMm },
      thread,
      depthMm,
      positionMm,
    })),
    faceOpenings: storedOpenings.parse(row.face_openings),
    sprue: {
      lengthMm: row.sprue_length_mm,
      nozzleEndDiameterMm: row.sprue_nozzle_end_mm,
      partingFaceDiameterMm: row.sprue_parting_face_mm,
    },
    minimumDaylightMm: row.minimum_daylight_mm,
    largestStackMm: row.largest_stack_mm,
    halfThicknessMm: moving === null || fixed === null ? null : { moving, fixed },
    halfMaterial: row.half_material,
  };
}
