import type { Point, Region, Ring } from './point.js';

/**
 * Whether a point lies in a region, holes taken out. Even-odd count of crossings to the right; a point exactly
 * on the boundary may fall either way.
 */
export function regionContains(region: Region, point: Point): boolean {
  let inside = false;
  for (const ring of region) if (ringContains(ring, point)) inside = !inside;
  return inside;
}

/** Whether a point lies inside one ring, whichever way the ring runs. */
export function ringContains(ring: Ring, { x, y }: Point): boolean {
  let inside = false;
  let a = ring.at(-1);
  for (const b of ring) {
    if (a && a.y > y !== b.y > y && x < b.x + ((a.x - b.x) * (y - b.y)) / (a.y - b.y)) inside = !inside;
    a = b;
  }
  return inside;
}
