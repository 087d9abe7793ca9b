import type { Point } from '../geometry/point.js';

/** How one bolt hole of the plate meets the bolster, at the registration's `placement`. */
export interface HoleMatch {
  /** Index into the drawing's bolts. */
  readonly bolt: number;
  /** Index into the bolster's holes; null when none was left for it. */
  readonly hole: number | null;
  /** Hole centre of the plate as placed, minus the tapped hole, on the bolster's axes, mm. */
  readonly error: Point;
  readonly errorMm: number;
  readonly allowanceMm: number;
  readonly matched: boolean;
}

/** A rigid motion of the plate: a drawing point p lands at R(rotationDeg) (p - feed) + shift, never mirrored. */
export interface Placement {
  /** Counter-clockwise, seen on the face, in [0, 360). */
  readonly rotationDeg: number;
  /** Where the feed lands, the sprue axis being the origin, mm. */
  readonly shift: Point;
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
  /** The least the feed can be off the sprue with every screw still going in, mm; null when the holes do not fit. */
  readonly leastFeedOffsetMm: number | null;
  /** How far the feed may be off the sprue, mm. */
  readonly feedAllowanceMm: number;
  /**
   * Where the plate is best looked at, and where `matches` are taken: the float when the holes fit, else where most
   * of them land, so that the wrong ones stand out. Null when the drawing has no bolt holes or no tapped hole has
   * the screw's thread.
   */
  readonly placement: Placement | null;
  readonly matches: readonly HoleMatch[];
}
