import { boundsOfPoints } from '../geometry/bounds.js';
import type { Point, Ring } from '../geometry/point.js';
import type { Circle } from './stroke.js';

/** How far a contour may stray from a circle and still be one, mm; a convention of plate drawings. */
const ROUND_MM = 0.01;
/** A square's corners lie on a circle too: with fewer corners a contour is no circle. */
const FEWEST_POINTS = 8;

/**
 * The circle a ring was flattened from, or null. The points lie on the curve itself, so the circle through them by
 * least squares (Kåsa's linear fit) is exact for a circle of two arcs; the middles of the edges tell it from a polygon.
 */
export function circleOfRing(ring: Ring): Circle | null {
  if (ring.length < FEWEST_POINTS) return null;
  const { minX, minY, maxX, maxY } = boundsOfPoints(ring);
  if (Math.abs(maxX - minX - (maxY - minY)) > 4 * ROUND_MM) return null;
  const circle = fitted(ring, { x: (minX + maxX) / 2, y: (minY + maxY) / 2 });
  if (!circle) return null;
  const radius = circle.diameterMm / 2;
  const strays = (point: Point) => Math.abs(distance(point, circle.centre) - radius) > ROUND_MM;
  const round = ring.every((point, i) => {
    const next = ring[(i + 1) % ring.length] as Point;
    return !strays(point) && !strays({ x: (point.x + next.x) / 2, y: (point.y + next.y) / 2 });
  });
  return round ? circle : null;
}

/** Least squares of x² + y² = 2 a x + 2 b y + c about the middle of the box. */
function fitted(ring: Ring, middle: Point): Circle | null {
  const n = ring.length;
  let [sx, sy, sxx, syy, sxy, sxz, syz, sz] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (const point of ring) {
    const x = point.x - middle.x;
    const y = point.y - middle.y;
    const z = x * x + y * y;
    sx += x;
    sy += y;
    sxx += x * x;
    syy += y * y;
    sxy += x * y;
    sxz += x * z;
    syz += y * z;
    sz += z;
  }
  const [a, b, c] = [sxx - (sx * sx) / n, sxy - (sx * sy) / n, syy - (sy * sy) / n];
  const [p, q] = [(sxz - (sx * sz) / n) / 2, (syz - (sy * sz) / n) / 2];
  const determinant = a * c - b * b;
  if (!(determinant > 0)) return null;
  const x = (p * c - q * b) / determinant;
  const y = (q * a - p * b) / determinant;
  const radius = Math.sqrt((sz - 2 * x * sx - 2 * y * sy) / n + x * x + y * y);
  return { centre: { x: middle.x + x, y: middle.y + y }, diameterMm: 2 * radius };
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}
