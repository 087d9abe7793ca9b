import type { Point } from './point.js';

/** Twice the signed area of the triangle a, b, c: positive when it turns left. */
function cross(ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number {
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

/** The point of the segment a to b nearest to p. */
export function nearestOnSegment(a: Point, b: Point, p: Point): Point {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const squared = dx * dx + dy * dy;
  const t = squared === 0 ? 0 : ((p.x - a.x) * dx + (p.y - a.y) * dy) / squared;
  if (t <= 0) return a;
  if (t >= 1) return b;
  return { x: a.x + t * dx, y: a.y + t * dy };
}

/** Squared distance from p to the segment a to b, mm2: the same as to `nearestOnSegment`, without making a point of it. */
export function squaredToSegment(
  px: number,
  py: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number {
  const dx = bx - ax;
  const dy = by - ay;
  const squared = dx * dx + dy * dy;
  const along = squared === 0 ? 0 : ((px - ax) * dx + (py - ay) * dy) / squared;
  const t = Math.min(1, Math.max(0, along));
  const offX = t === 1 ? bx - px : ax + t * dx - px;
  const offY = t === 1 ? by - py : ay + t * dy - py;
  return offX * offX + offY * offY;
}

/** Where two segments cross, each properly on both sides of the other; null where they only touch or miss. */
export function crossingOf(p1: Point, p2: Point, q1: Point, q2: Point): Point | null {
  const sideP1 = cross(q1.x, q1.y, q2.x, q2.y, p1.x, p1.y);
  const sideP2 = cross(q1.x, q1.y, q2.x, q2.y, p2.x, p2.y);
  if (!(sideP1 > 0 ? sideP2 < 0 : sideP1 < 0 && sideP2 > 0)) return null;
  const sideQ1 = cross(p1.x, p1.y, p2.x, p2.y, q1.x, q1.y);
  const sideQ2 = cross(p1.x, p1.y, p2.x, p2.y, q2.x, q2.y);
  if (!(sideQ1 > 0 ? sideQ2 < 0 : sideQ1 < 0 && sideQ2 > 0)) return null;
  const t = sideP1 / (sideP1 - sideP2);
  return { x: p1.x + t * (p2.x - p1.x), y: p1.y + t * (p2.y - p1.y) };
}
