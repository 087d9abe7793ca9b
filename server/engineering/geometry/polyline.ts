import { type Bounds, boundsMeet, boundsOfPoints } from './bounds.js';
import type { Point, Region } from './point.js';
import { nearestOnSegment } from './segment.js';

/** A place on a line of several straight pieces: how far along it, mm, and where. */
export interface OnPath {
  readonly alongMm: number;
  readonly at: Point;
}

export function distanceMm(a: Point, b: Point): number {
  return Math.hypot(b.x - a.x, b.y - a.y);
}

/** Length of a line of several straight pieces, mm. */
export function pathLengthMm(path: readonly Point[]): number {
  let lengthMm = 0;
  for (let i = 1; i < path.length; i++) lengthMm += distanceMm(path[i - 1] as Point, path[i] as Point);
  return lengthMm;
}

/** The place of a path nearest to a point, and how far off it is, mm. A path of one point is that point. */
export function nearestOnPath(
  path: readonly Point[],
  point: Point,
): OnPath & { readonly distanceMm: number } {
  let best = { alongMm: 0, at: path[0] as Point, distanceMm: distanceMm(path[0] as Point, point) };
  let alongMm = 0;
  for (let i = 1; i < path.length; i++) {
    const [a, b] = [path[i - 1] as Point, path[i] as Point];
    const at = nearestOnSegment(a, b, point);
    const off = distanceMm(at, point);
    if (off < best.distanceMm) best = { alongMm: alongMm + distanceMm(a, at), at, distanceMm: off };
    alongMm += distanceMm(a, b);
  }
  return best;
}

/** Where a path crosses the outline of a region, in the order along the path. */
export function rimCrossings(path: readonly Point[], region: Region): readonly OnPath[] {
  const box = boundsOfPoints(path);
  const found: OnPath[] = [];
  for (const ring of region) {
    if (!boundsMeet(boundsOfPoints(ring), box)) continue;
    let from = ring.at(-1);
    for (const to of ring) {
      if (from && edgeMeets(from, to, box)) addCrossings(path, from, to, found);
      from = to;
    }
  }
  return found.sort((a, b) => a.alongMm - b.alongMm);
}

/** Where two paths cross, with how far along each of them. */
export function pathCrossings(
  one: readonly Point[],
  other: readonly Point[],
): readonly { readonly at: Point; readonly alongOneMm: number; readonly alongOtherMm: number }[] {
  let alongOtherMm = 0;
  return other.slice(1).flatMap((to, i) => {
    const from = other[i] as Point;
    const found: OnPath[] = [];
    addCrossings(one, from, to, found);
    const before = alongOtherMm;
    alongOtherMm += distanceMm(from, to);
    return found.map(({ at, alongMm }) => ({
      at,
      alongOneMm: alongMm,
      alongOtherMm: before + distanceMm(from, at),
    }));
  });
}

function addCrossings(path: readonly Point[], from: Point, to: Point, found: OnPath[]): void {
  let alongMm = 0;
  for (let i = 1; i < path.length; i++) {
    const [a, b] = [path[i - 1] as Point, path[i] as Point];
    const at = crossing(a, b, from, to);
    if (at) found.push({ alongMm: alongMm + distanceMm(a, at), at });
    alongMm += distanceMm(a, b);
  }
}

/**
 * Where the piece a to b crosses an edge. A corner that lies on the line belongs to its right side, so that a line
 * through the corner of two edges crosses one of them.
 */
function crossing(a: Point, b: Point, from: Point, to: Point): Point | null {
  const [fromSide, toSide] = [sideOf(a, b, from), sideOf(a, b, to)];
  if (fromSide > 0 === toSide > 0) return null;
  const t = fromSide / (fromSide - toSide);
  const at = { x: from.x + t * (to.x - from.x), y: from.y + t * (to.y - from.y) };
  const along = (at.x - a.x) * (b.x - a.x) + (at.y - a.y) * (b.y - a.y);
  const whole = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
  return along >= 0 && along <= whole ? at : null;
}

/** Positive on the left of the line a to b. */
function sideOf(a: Point, b: Point, p: Point): number {
  return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

function edgeMeets(a: Point, b: Point, { minX, minY, maxX, maxY }: Bounds): boolean {
  return (
    Math.min(a.x, b.x) <= maxX &&
    Math.max(a.x, b.x) >= minX &&
    Math.min(a.y, b.y) <= maxY &&
    Math.max(a.y, b.y) >= minY
  );
}
