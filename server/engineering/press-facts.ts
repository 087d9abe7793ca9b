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
}

/** The workshop's own limits that a check uses. */
export interface CheckRules {
  readonly clampSafetyFactor: number;
  readonly handClearanceMm: number;
  /** Position tolerance of a plate's holes as a radius, mm, unless stated. */
  readonly plateHolePositionMm: number;
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

/** What is said about a plate beside its drawing. SINK contours in the drawing win over `headSink…`. */
export interface PlateFacts {
  readonly thicknessMm: number;
  readonly facingThicknessMm: number;
  readonly packerThicknessMm: number;
  readonly alloy: Alloy;
  readonly partHeightMm: number | null;
  readonly screw: {
    readonly size: string;
    readonly lengthMm: number;
    readonly headSinkDepthMm: number | null;
    readonly headSinkDiameterMm: number | null;
  };
}
