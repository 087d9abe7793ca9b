import { arcSteps } from '../geometry/arc.js';
import type { Point } from '../geometry/point.js';
import { TooIntricate } from '../geometry/too-intricate.js';
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

/** A circle, an ellipse or a part of one: centre + u cos t + v sin t from `start` over `sweep` (radians). */
export interface EllipticArc {
  readonly centre: Point;
  readonly u: Point;
  readonly v: Point;
  readonly start: number;
  readonly sweep: number;
}

/** An affine map takes such an arc to another, so a circle in a stretched block is an ellipse without more ado. */
export function placeArc(placement: Placement, arc: EllipticArc): EllipticArc {
  return {
    ...arc,
    centre: place(placement, arc.centre.x, arc.centre.y),
    u: placeVector(placement, arc.u.x, arc.u.y),
    v: placeVector(placement, arc.v.x, arc.v.y),
  };
}

/** Points along an arc, both ends included; a full turn repeats its first point. */
export function arcPoints(arc: EllipticArc): Point[] {
  const { centre, u, v, start, sweep } = arc;
  const steps = arcSteps(longestRadius(arc), sweep);
  if (!(steps < MOST_POINTS)) throw new TooIntricate(MOST_POINTS);
  const points: Point[] = [];
  for (let i = 0; i <= steps; i++) {
    const t = start + (sweep * i) / steps;
    const cos = Math.cos(t);
    const sin = Math.sin(t);
    points.push({ x: centre.x + u.x * cos + v.x * sin, y: centre.y + u.y * cos + v.y * sin });
  }
  return points;
}

/** The circle a full turn is, or null for an ellipse. */
export function circleOfArc({ centre, u, v }: EllipticArc): Circle | null {
  const ru = Math.hypot(u.x, u.y);
  const rv = Math.hypot(v.x, v.y);
  const skew = Math.abs(u.x * v.x + u.y * v.y) / Math.max(ru, rv, 1e-12);
  return Math.abs(ru - rv) <= ROUND_MM && skew <= ROUND_MM ? { centre, diameterMm: ru + rv } : null;
}

/** The half axis of the ellipse with conjugate half diameters u and v: root of the larger eigenvalue. */
export function longestRadius({ u, v }: Pick<EllipticArc, 'u' | 'v'>): number {
  const uu = u.x * u.x + u.y * u.y;
  const vv = v.x * v.x + v.y * v.y;
  const uv = u.x * v.x + u.y * v.y;
  return Math.sqrt((uu + vv + Math.sqrt((uu - vv) ** 2 + 4 * uv * uv)) / 2);
}
