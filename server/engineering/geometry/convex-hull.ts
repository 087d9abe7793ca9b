import type { Point, Ring } from './point.js';

/**
 * The convex hull of some points, counter-clockwise, without points along its sides (Andrew's monotone chain).
 * One or two points give themselves.
 */
export function convexHullOf(points: readonly Point[]): Ring {
  const sorted = [...points].sort((a, b) => a.x - b.x || a.y - b.y);
  if (sorted.length < 3) return sorted;
  const lower = chain(sorted);
  const upper = chain(sorted.reverse());
  return [...lower.slice(0, -1), ...upper.slice(0, -1)];
}

function chain(sorted: readonly Point[]): Point[] {
  const kept: Point[] = [];
  for (const point of sorted) {
    while (kept.length >= 2 && !turnsLeft(kept.at(-2) as Point, kept.at(-1) as Point, point)) kept.pop();
    kept.push(point);
  }
  return kept;
}

function turnsLeft(a: Point, b: Point, c: Point): boolean {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x) > 0;
}
