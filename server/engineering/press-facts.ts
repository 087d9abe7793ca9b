import type { Point, Region } from './geometry/point.js';

/** A tapped hole in the bolster's face; the origin is the sprue axis. */
export interface TappedHole {
  readonly at: Point;
  /** ISO metric size, for instance `M6`. */
  readonly thread: string;
  readonly depthMm: number;
  /** Position tolerance as a radius, mm. */
  readonly positionMm: number;
}

/** What a plate is screwed to, seen on the face of the moving half with the sprue axis at the origin. */
export interface BolsterFacts {
  readonly face: { readonly widthMm: number; readonly heightMm: number; readonly centre: Point };
  /** `steel` or an alloy name of the material table. */
  readonly faceMaterial: string;
  readonly allowableFacePressureMpa: number;
  readonly holes: readonly TappedHole[];
  /** Other openings in the face, such as old ejector bores; empty when there are none. */
  readonly faceOpenings: Region;
  readonly sprue: {
    readonly lengthMm: number;
    readonly nozzleEndDiameterMm: number;
    readonly partingFaceDiameterMm: number;
  };
  readonly minimumDaylightMm: number;
  readonly largestStackMm: number;
  /** Of each half, from its platen to the parting face; null when not known. */
  readonly halfThicknessMm: { readonly moving: number; readonly fixed: number } | null;
  /** What both halves are of, `steel` or an alloy name of the material table; null when not known. */
  readonly halfMaterial: string | null;
}

/** The press itself, as its plate and manual state it. */
export interface PressFacts {
  readonly clamp: {
    readonly kind: 'hydraulic' | 'toggle';
    readonly minKn: number;
    readonly maxKn: number;
    /** Free width and height between the tie bars, mm. */
    readonly tieBarsWidthMm: number;
    readonly tieBarsHeightMm: number;
    readonly platensGuided: boolean;
    /** The maker's limit for an off-centre opening force, N mm; null when not known. */
    readonly eccentricMomentNmm: number | null;
  };
  /** With the thinnest stack the bolster takes. */
  readonly openingStrokeMm: number;
  readonly injection: {
    readonly screwDiameterMm: number;
    readonly shotCm3: number;
    readonly maxPressureMpa: number;
    readonly maxFlowCm3PerS: number;
    readonly barrelShots: number;
    readonly nozzleOrificeMm: number;
  };
  /** Pressure on the melt over pressure in the cylinder that drives the screw; null when not known. */
  readonly intensification: number | null;
  /** Of each platen; null when not known. */
  readonly platenThicknessMm: number | null;
  /** To close, open and take the part out, without injecting, holding or cooling, s; null when not known. */
  readonly dryCycleS: number | null;
  /** Cooling water as the chiller gives it; null when there is none. */
  readonly chiller: { readonly flowLPerMin: number; readonly waterC: number } | null;
}

/** The workshop's own limits that a check uses. */
export interface CheckRules {
  readonly clampSafetyFactor: number;
  readonly handClearanceMm: number;
  /** Position tolerance of a plate's holes as a radius, mm, unless stated. */
  readonly plateHolePositionMm: number;
  /** Of the room round the press, deg C. */
  readonly roomC: number;
}

export const ALLOYS = [
  'EN AW-6082-T6',
  'EN AW-6061-T6',
  'EN AW-5083',
  'EN AW-7075-T6',
  'cast-plate',
  'steel',
  'brass',
] as const;

export type Alloy = (typeof ALLOYS)[number];

/** A kind of screw and how its head is sunk where the drawing has no SINK contour. */
export interface ScrewFacts {
  readonly size: string;
  readonly lengthMm: number;
  readonly headSinkDepthMm: number | null;
  readonly headSinkDiameterMm: number | null;
}

/** Bolt holes that take another screw than the rest: those of one drawn diameter, or those named. */
export interface ScrewGroup {
  /** As drawn; null where the holes are named. */
  readonly holeDiameterMm: number | null;
  /** Numbers of holes, counting from 1 as a report lists them; empty where they go by diameter. */
  readonly holes: readonly number[];
  readonly screw: ScrewFacts;
}

export const CUTTER_FORMS = ['flat', 'ball', 'tapered'] as const;

export type CutterForm = (typeof CUTTER_FORMS)[number];

/** What an end mill cuts into the face. */
export const MILLED_FEATURES = ['cavity', 'runner', 'gate', 'vent', 'feed'] as const;

export type MilledFeature = (typeof MILLED_FEATURES)[number];

/** The cutter that finishes a kind of cut, as far as it is given; the rest goes by the usual rule. */
export interface CutterGiven {
  /** Null: every kind of cut that no other cutter names. */
  readonly feature: MilledFeature | null;
  readonly form: CutterForm | null;
  /** At the tip of a tapered one. */
  readonly diameterMm: number | null;
  /** Of each side against the cutter's axis; only of a tapered one. */
  readonly taperDeg: number | null;
}

/** What is said about a plate beside its drawing. SINK contours in the drawing win over `headSink…`. */
export interface PlateFacts {
  readonly thicknessMm: number;
  readonly facingThicknessMm: number;
  readonly packerThicknessMm: number;
  readonly alloy: Alloy;
  readonly partHeightMm: number | null;
  /** Of the cavity's walls, each side; null when not given: then the cutter's, or the usual. */
  readonly draftDeg: number | null;
  readonly cutters: readonly CutterGiven[];
  readonly screw: ScrewFacts;
  /** Screws that differ from `screw`. */
  readonly screwGroups: readonly ScrewGroup[];
}
