import type { Path64, Paths64 } from 'clipper2-ts';
import type { Point, Region } from './point.js';

/**
 * Clipper works in whole numbers. A hundred thousand steps per mm place every point within 5e-6 mm, and products of
 * lengths stay exact in a double up to 900 mm, where Clipper would otherwise turn to slower big integers.
 */
export const STEPS_PER_MM = 100_000;

/** A whole-mm corner near the shapes: what is placed once keeps its place under any other such corner. */
export type Corner = Point;

export function cornerOf(regions: Iterable<Region>): Corner {
  let x = Infinity;
  let y = Infinity;
  for (const region of regions) {
    for (const ring of region) {
      for (const point of ring) {
        if (point.x < x) x = point.x;
        if (point.y < y) y = point.y;
      }
    }
  }
  return x === Infinity ? { x: 0, y: 0 } : { x: Math.floor(x), y: Math.floor(y) };
}

/**
 * A ring in whole steps. The idle `z` gives these points a shape of their own to the compiler: sharing one with points in
 * mm, whose coordinates are fractions, made Clipper two to three times slower.
 */
export function toGrid(ring: readonly Point[], corner: Corner): Path64 {
  return ring.map(({ x, y }) => ({
    x: Math.round((x - corner.x) * STEPS_PER_MM),
    y: Math.round((y - corner.y) * STEPS_PER_MM),
    z: 0,
  }));
}

/** Back to mm; rings too small to hold anything are left behind. */
export function fromGrid(paths: Paths64, corner: Corner): Region {
  return paths
    .filter((path) => path.length >= 3)
    .map((path) =>
      path.map(({ x, y }) => ({ x: corner.x + x / STEPS_PER_MM, y: corner.y + y / STEPS_PER_MM })),
    );
}
