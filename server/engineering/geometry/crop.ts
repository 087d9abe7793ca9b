import { type Bounds, boundsHold, boundsMeet, boundsOfPoints } from './bounds.js';
import type { Point, Region, Ring } from './point.js';

/**
 * What of a region may lie in a box, for an operation that looks nowhere else: rings outside are left away, others cut
 * at its sides (Sutherland and Hodgman). A ring cut in two stays one, joined along a side of the box.
 */
export function croppedTo(region: Region, box: Bounds): Region {
  return region.flatMap((ring) => {
    const bounds = boundsOfPoints(ring);
    if (!boundsMeet(box, bounds)) return [];
    if (boundsHold(box, bounds)) return [ring];
    const cropped = SIDES.reduce<Ring>((left, side) => cutAt(left, side(box)), ring);
    return cropped.length < 3 ? [] : [cropped];
  });
}

/** A side of the box: the points to keep have sign * coordinate <= sign * limit. */
interface Side {
  readonly axis: 'x' | 'y';
  readonly sign: 1 | -1;
  readonly limit: number;
}

const SIDES: readonly ((box: Bounds) => Side)[] = [
  ({ minX }) => ({ axis: 'x', sign: -1, limit: minX }),
  ({ maxX }) => ({ axis: 'x', sign: 1, limit: maxX }),
  ({ minY }) => ({ axis: 'y', sign: -1, limit: minY }),
  ({ maxY }) => ({ axis: 'y', sign: 1, limit: maxY }),
];

function cutAt(ring: Ring, { axis, sign, limit }: Side): Ring {
  const kept: Point[] = [];
  let a = ring.at(-1);
  for (const b of ring) {
    if (!a) break;
    const beyondA = sign * (a[axis] - limit);
    const beyondB = sign * (b[axis] - limit);
    if (beyondA > 0 !== beyondB > 0) {
      const t = beyondA / (beyondA - beyondB);
      kept.push({ x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) });
    }
    if (beyondB <= 0) kept.push(b);
    a = b;
  }
  return kept;
}
