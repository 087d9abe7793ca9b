import type { EllipticArc } from '../geometry/arc.js';
import type { Point } from '../geometry/point.js';
import { type Placement, place, placeVector } from './placement.js';

/** One entity as drawn on the plate: points within the chord error of its curve, mm. */
export interface Stroke {
  readonly entity: string;
  readonly points: readonly Point[];
  /** A closed stroke does not repeat its first point. */
  readonly closed: boolean;
  /** Set where the stroke is known to be a full circle. */
  readonly circle: Circle | null;
}

export interface Circle {
  readonly centre: Point;
  readonly diameterMm: number;
}

/** All points a drawing may need: a hundred times what an intricate plate takes. */
export const MOST_POINTS = 1_000_000;
/** A circle whose axes differ by no more than this after scaling is still one, mm. */
const ROUND_MM = 0.005;

/** An affine map takes such an arc to another, so a circle in a stretched block is an ellipse without more ado. */
export function placeArc(placement: Placement, arc: EllipticArc): EllipticArc {
  return {
    ...arc,
    centre: place(placement, arc.centre.x, arc.centre.y),
    u: placeVector(placement, arc.u.x, arc.u.y),
    v: placeVector(placement, arc.v.x, arc.v.y),
  };
}

/** The circle a full turn is, or null for an ellipse. */
export function circleOfArc({ centre, u, v }: EllipticArc): Circle | null {
  const ru = Math.hypot(u.x, u.y);
  const rv = Math.hypot(v.x, v.y);
  const skew = Math.abs(u.x * v.x + u.y * v.y) / Math.max(ru, rv, 1e-12);
  return Math.abs(ru - rv) <= ROUND_MM && skew <= ROUND_MM ? { centre, diameterMm: ru + rv } : null;
}
