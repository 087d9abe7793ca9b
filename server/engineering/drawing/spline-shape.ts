import { CHORD_ERROR_MM } from '../geometry/arc.js';
import type { Point } from '../geometry/point.js';
import { nearestOnSegment } from '../geometry/segment.js';
import { TooIntricate } from '../geometry/too-intricate.js';
import type { EntityFields } from './entity-fields.js';
import { type Placement, place } from './placement.js';
import { MOST_POINTS, type Stroke } from './stroke.js';

/** Higher degrees are not drawn by hand nor exported. */
const HIGHEST_DEGREE = 25;
/** How often one span between knots may be halved: 4096 pieces. */
const DEEPEST_HALVING = 12;

/** A rational B-spline with its control points on the plate, mm. */
interface Spline {
  readonly degree: number;
  readonly knots: readonly number[];
  readonly controls: readonly Point[];
  readonly weights: readonly number[];
}

/**
 * SPLINE by control points, knots and weights (DXF reference, SPLINE groups 10, 40, 41, 71). Control points are
 * placed first: a B-spline moves with them under any affine map.
 * @throws DrawingRefused `drawing-spline-fit-points-only`, `drawing-entity-damaged`
 */
export function splineShape(fields: EntityFields, placement: Placement): Stroke {
  const spline = splineOf(fields, placement);
  const points = [pointAt(spline, spline.degree, spline.knots[spline.degree] as number)];
  for (let span = spline.degree; span < spline.controls.length; span++) {
    const from = spline.knots[span] as number;
    const to = spline.knots[span + 1] as number;
    if (to > from) flatten(spline, span, from, to, points);
  }
  return { entity: fields.name.entity, points, closed: false, circle: null };
}

function splineOf(fields: EntityFields, placement: Placement): Spline {
  const xs = fields.numbers(10);
  const ys = fields.numbers(20);
  if (xs.length === 0) {
    const [x, y] = [fields.numbers(11)[0], fields.numbers(21)[0]];
    const at = x !== undefined && y !== undefined ? { at: place(placement, x, y) } : {};
    fields.refuse({ code: 'drawing-spline-fit-points-only', ...at });
  }
  const degree = fields.number(71, 3);
  const knots = fields.numbers(40);
  const given = fields.numbers(41);
  const weights = given.length > 0 ? given : xs.map(() => 1);
  const sound =
    Number.isInteger(degree) &&
    degree >= 1 &&
    degree <= HIGHEST_DEGREE &&
    xs.length > degree &&
    ys.length === xs.length &&
    weights.length === xs.length &&
    weights.every((weight) => weight > 0) &&
    knots.length === xs.length + degree + 1 &&
    knots.every((knot, i) => i === 0 || knot >= (knots[i - 1] as number)) &&
    (knots[degree] as number) < (knots[xs.length] as number);
  if (!sound) fields.refuse({ code: 'drawing-entity-damaged' });
  const controls = xs.map((x, i) => place(placement, x, ys[i] as number));
  return { degree, knots, controls, weights };
}

/** Adds the points after `from` up to `to`, halving until no piece strays from the curve. */
function flatten(spline: Spline, span: number, from: number, to: number, points: Point[]): void {
  const pieces = Math.max(2, spline.degree);
  let start = points.at(-1) as Point;
  for (let i = 1; i <= pieces; i++) {
    const u0 = from + ((to - from) * (i - 1)) / pieces;
    const u1 = from + ((to - from) * i) / pieces;
    const end = pointAt(spline, span, u1);
    halve(spline, span, u0, u1, start, end, points, DEEPEST_HALVING);
    start = end;
  }
}

function halve(
  spline: Spline,
  span: number,
  u0: number,
  u1: number,
  start: Point,
  end: Point,
  points: Point[],
  left: number,
): void {
  const middle = (u0 + u1) / 2;
  const half = pointAt(spline, span, middle);
  const strays = (point: Point) => {
    const chord = nearestOnSegment(start, end, point);
    return Math.hypot(chord.x - point.x, chord.y - point.y) > CHORD_ERROR_MM;
  };
  const quarter = (u1 - u0) / 4;
  if (
    left > 0 &&
    (strays(half) ||
      strays(pointAt(spline, span, u0 + quarter)) ||
      strays(pointAt(spline, span, u1 - quarter)))
  ) {
    halve(spline, span, u0, middle, start, half, points, left - 1);
    halve(spline, span, middle, u1, half, end, points, left - 1);
    return;
  }
  if (points.length >= MOST_POINTS) throw new TooIntricate(MOST_POINTS);
  points.push(end);
}

/** De Boor's algorithm in homogeneous coordinates, at `u` within knot span `span`. */
function pointAt({ degree, knots, controls, weights }: Spline, span: number, u: number): Point {
  const x: number[] = [];
  const y: number[] = [];
  const w: number[] = [];
  for (let i = 0; i <= degree; i++) {
    const k = span - degree + i;
    const weight = weights[k] as number;
    x.push((controls[k] as Point).x * weight);
    y.push((controls[k] as Point).y * weight);
    w.push(weight);
  }
  for (let level = 1; level <= degree; level++) {
    for (let i = degree; i >= level; i--) {
      const k = span - degree + i;
      const low = knots[k] as number;
      const t = (u - low) / ((knots[k + degree - level + 1] as number) - low);
      x[i] = (1 - t) * (x[i - 1] as number) + t * (x[i] as number);
      y[i] = (1 - t) * (y[i - 1] as number) + t * (y[i] as number);
      w[i] = (1 - t) * (w[i - 1] as number) + t * (w[i] as number);
    }
  }
  const weight = w[degree] as number;
  return { x: (x[degree] as number) / weight, y: (y[degree] as number) / weight };
}
