import type { Point } from '../geometry/point.js';

/** How one bolt hole of the plate meets the bolster. */
export interface HoleMatch {
  /** Index into the drawing's bolts. */
  readonly bolt: number;
  /** Index into the bolster's holes; null when none was left for it. */
  readonly hole: number | null;
  /** Hole centre of the plate as placed, minus the tapped hole, after the float, on the bolster's axes, mm. */
  readonly error: Point;
  readonly errorMm: number;
  readonly allowanceMm: number;
  readonly matched: boolean;
}

/**
 * How the plate goes on the bolster. A drawing point p lands at R(rotationDeg) (p - feed) + floatMm, the sprue
 * axis being the origin. Everything is null when the drawing has no bolt holes.
 */
export interface Registration {
  readonly fits: boolean;
  readonly holesFit: boolean;
  readonly feedFits: boolean;
  readonly outlineFits: boolean;
  /** Counter-clockwise, seen on the face, in [0, 360). */
  readonly rotationDeg: number | null;
  /** True when the mirror image would fit (holes, feed and outline). */
  readonly mirroredFits: boolean;
  readonly floatMm: Point | null;
  /** Largest hole error with the feed exactly on the sprue, mm. */
  readonly worstErrorMm: number | null;
  readonly worstErrorAfterFloatMm: number | null;
  /** The allowance of the hole that decides, mm. */
  readonly allowanceMm: number | null;
  /** Feed minus sprue at the float that suits the screws best, mm. */
  readonly feedOffset: Point | null;
  readonly matches: readonly HoleMatch[];
}
