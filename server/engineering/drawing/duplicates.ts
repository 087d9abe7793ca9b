import { boundsOfPoints } from '../geometry/bounds.js';
import { Effort } from '../geometry/effort.js';
import type { Point } from '../geometry/point.js';

/** Copies made by a CAD program agree to the last figures written. */
const SAME_MM = 1e-6;
/** Every point of the largest drawing, some ten times over. */
const COMPARISONS = 10_000_000;

interface Drawn {
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/**
 * Keeps the first of shapes that are the same points, whichever way round they run and, when closed, wherever they
 * begin. Only shapes with the same box and number of points are compared.
 */
export function withoutDuplicates<T extends Drawn>(shapes: readonly T[]): readonly T[] {
  const seen = new Map<string, T[]>();
  const effort = new Effort(COMPARISONS);
  const kept = shapes.filter((shape) => {
    const key = boxKey(shape);
    const alike = seen.get(key);
    if (!alike) seen.set(key, [shape]);
    else if (alike.some((other) => areSame(other, shape, effort))) return false;
    else alike.push(shape);
    return true;
  });
  return kept.length === shapes.length ? shapes : kept;
}

function boxKey({ points, closed }: Drawn): string {
  const { minX, minY, maxX, maxY } = boundsOfPoints(points);
  const rounded = [minX, minY, maxX, maxY].map((value) => Math.round(value * 1000));
  return `${closed}/${points.length}/${rounded.join('/')}`;
}

function areSame(a: Drawn, b: Drawn, effort: Effort): boolean {
  effort.spend(a.points.length);
  const first = a.points[0];
  if (!first) return true;
  const runsFrom = (start: number, step: 1 | -1) =>
    a.points.every((point, i) => near(point, b.points.at((start + step * i) % b.points.length) as Point));
  if (!a.closed) return runsFrom(0, 1) || runsFrom(b.points.length - 1, -1);
  const start = b.points.findIndex((point) => near(point, first));
  return start >= 0 && (runsFrom(start, 1) || runsFrom(start, -1));
}

function near(a: Point, b: Point): boolean {
  return Math.abs(a.x - b.x) <= SAME_MM && Math.abs(a.y - b.y) <= SAME_MM;
}
