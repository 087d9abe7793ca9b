import type { Basis } from '../finding.js';
import type { Bounds } from '../geometry/bounds.js';
import type { Point, Region } from '../geometry/point.js';

/** What is cut into the plate, as a wall has it on one side. */
export type CutKind = 'cavity' | 'runner' | 'gate' | 'feed' | 'vent' | 'sink' | 'bolt' | 'dowel' | 'water';

/** What it has on the other side: another cut, the plate's edge, an opening through it, its back or its face. */
export type OtherSide = CutKind | 'edge' | 'opening' | 'back' | 'face';

/** One depth of a cut that fills with melt or air. */
export interface CutLevel {
  readonly kind: CutKind;
  readonly depthMm: number;
  readonly region: Region;
  readonly bounds: Bounds;
}

/** Metal between two cuts, or between a cut and the end of the metal. */
export interface Wall {
  readonly of: CutKind;
  readonly to: OtherSide;
  /** Metal left, mm; 0 or less where they meet. */
  readonly leftMm: number;
  /** What practice asks for, mm; 0 where only meeting is wrong. */
  readonly limitMm: number;
  /** Whether meeting is a stop: melt, air or water would get where it must not. */
  readonly mustNotMeet: boolean;
  /** Where on the cut, and where on the other side. */
  readonly at: Point;
  readonly otherAt: Point;
  /** Depth of the cut there, mm. */
  readonly depthMm: number;
  /** Of a cooling bore: which, and the depth of its axis at which it would keep the limit, mm; null where none does. */
  readonly bore: { readonly channel: number; readonly depthMm: number } | null;
}

/** Least metal that is left beside or under a cut, mm. Common practice, no source. */
export const LEAST_METAL_MM = 3;

/** Walls are measured on curves flattened to 0.01 mm, and this much short of a limit is not short, mm. */
const WALL_TOLERANCE_MM = 0.02;

/** Metal that counts as none: two cuts this near run into one another on the machine, mm. */
export const MEETS_MM = 0.01;

export const WALL_SOURCE = 'common practice, no source';
export const WALL_BASIS: Basis = 'practice';

/**
 * Wall between a cut that fills with melt and the plate's edge, mm: as thick as it is high, which keeps the bending
 * of a free-standing aluminium wall below half its proof stress at 40 MPa, and 3 mm. Common practice, no source.
 */
export function edgeWallMm(depthMm: number): number {
  return Math.max(LEAST_METAL_MM, depthMm);
}

/** Wall between a cut that fills with melt and a round hole, mm: one nominal diameter and 3 mm. Common practice, no source. */
export function holeWallMm(nominalMm: number): number {
  return Math.max(LEAST_METAL_MM, nominalMm);
}

/** Wall between a cut that fills with melt and a sink, mm: half as thick as it is high, and 3 mm. Common practice, no source. */
export function sinkWallMm(cutDepthMm: number, sinkDepthMm: number): number {
  return Math.max(LEAST_METAL_MM, Math.min(cutDepthMm, sinkDepthMm) / 2);
}

/**
 * Wall between two cuts that both fill with melt, mm: half as thick as the shallower is deep, and 1 mm. Melt presses
 * on one side while they fill and on both afterwards. Common practice, no source.
 */
export function meltWallMm(oneDepthMm: number, otherDepthMm: number): number {
  return Math.max(1, Math.min(oneDepthMm, otherDepthMm) / 2);
}

/**
 * A floor thinner than this is none, mm: stock comes some 0.2 mm off its nominal thickness and a pocket is milled to
 * about 0.1 mm, so that a cut drawn so deep goes through on one plate in two. Common practice, no source.
 */
const NO_FLOOR_MM = 0.3;

export function isMeeting({ leftMm, of, to }: Wall): boolean {
  return leftMm < (to === 'back' && of !== 'water' ? NO_FLOOR_MM : MEETS_MM);
}

/** Past a limit: a stop where the two meet and must not, else a caution. */
export function faultOf(wall: Wall): 'stop' | 'caution' | null {
  if (isMeeting(wall) && wall.mustNotMeet) return 'stop';
  return wall.leftMm < wall.limitMm - WALL_TOLERANCE_MM ? 'caution' : null;
}
