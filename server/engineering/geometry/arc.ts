import type { Point, Ring } from './point.js';

/**
 * How far a straight piece may lie from the curve it stands for, mm. A convention of plate drawings allows 0.01 mm; a
 * little less keeps a wall between two curves within 0.02 mm as well.
 */
export const CHORD_ERROR_MM = 0.008;

/** A full turn at a radius of 10 m takes a quarter of this; arcs beyond are refused by their points anyway. */
const MOST_STEPS = 10_000;

/**
 * Equal steps for a turn of `turnRad` at radius `radiusMm` so that no chord lies more than the chord error inside
 * the arc: e = r (1 - cos(step / 2)) = 2 r sin²(step / 4). At least four steps a quarter turn, however small the circle.
 */
function arcSteps(radiusMm: number, turnRad: number, chordErrorMm = CHORD_ERROR_MM): number {
  const widest = Math.PI / 8;
  const step = radiusMm > chordErrorMm ? 4 * Math.asin(Math.sqrt(chordErrorMm / radiusMm / 2)) : widest;
  return Math.min(MOST_STEPS, Math.max(1, Math.ceil(Math.abs(turnRad) / Math.min(step, widest) - 1e-9)));
}

/** A circle, an ellipse or a part of one: centre + u cos t + v sin t from `start` over `sweep` (radians). */
export interface EllipticArc {
  readonly centre: Point;
  readonly u: Point;
  readonly v: Point;
  readonly start: number;
  readonly sweep: number;
}

/** The half axis of the ellipse with conjugate half diameters u and v: root of the larger eigenvalue. */
function longestRadius({ u, v }: Pick<EllipticArc, 'u' | 'v'>): number {
  const uu = u.x * u.x + u.y * u.y;
  const vv = v.x * v.x + v.y * v.y;
  const uv = u.x * v.x + u.y * v.y;
  return Math.sqrt((uu + vv + Math.sqrt((uu - vv) ** 2 + 4 * uv * uv)) / 2);
}

/**
 * Points along an arc within the chord error, both ends included; a full turn repeats its first point. Cosine and sine
 * are carried on from step to step and worked out afresh now and then, before rounding could show.
 */
export function arcPoints(arc: EllipticArc): Point[] {
  const { centre, u, v, start, sweep } = arc;
  const steps = arcSteps(longestRadius(arc), sweep);
  const step = sweep / steps;
  const [stepCos, stepSin] = [Math.cos(step), Math.sin(step)];
  const points: Point[] = [];
  let cos = 1;
  let sin = 0;
  for (let i = 0; i <= steps; i++) {
    if (i % FRESH_EVERY === 0 || i === steps) {
      cos = Math.cos(start + i * step);
      sin = Math.sin(start + i * step);
    }
    points.push({ x: centre.x + u.x * cos + v.x * sin, y: centre.y + u.y * cos + v.y * sin });
    const next = cos * stepCos - sin * stepSin;
    sin = sin * stepCos + cos * stepSin;
    cos = next;
  }
  return points;
}

/** Rounding grows by some 1e-16 a step. */
const FRESH_EVERY = 64;

/** A circle as a counter-clockwise ring within the chord error, starting to the right of its centre. */
export function circleRing(centre: Point, diameterMm: number): Ring {
  const radius = diameterMm / 2;
  const axes = { u: { x: radius, y: 0 }, v: { x: 0, y: radius } };
  return arcPoints({ centre, ...axes, start: 0, sweep: 2 * Math.PI }).slice(0, -1);
}
