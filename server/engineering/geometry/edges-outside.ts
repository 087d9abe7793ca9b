import { type Bounds, boundsMeet, boundsOfPoints } from './bounds.js';
import type { Point, Region } from './point.js';

/** A stretch of a straight edge, between two places on it. */
export type Edge = readonly [Point, Point];

/** The edges of a region that come near a box, less what of them lies in any of the boxes `out`. */
export function edgesOutside(region: Region, near: Bounds, out: readonly Bounds[]): readonly Edge[] {
  const edges: Edge[] = [];
  for (const ring of region) {
    let a = ring.at(-1);
    for (const b of ring) {
      if (a && boundsMeet(near, boundsOfPoints([a, b]))) edges.push(...stretchesOutside(a, b, out));
      a = b;
    }
  }
  return edges;
}

function stretchesOutside(a: Point, b: Point, out: readonly Bounds[]): readonly Edge[] {
  let left: readonly (readonly [number, number])[] = [[0, 1]];
  for (const box of out) {
    const [enters, leaves] = stretchInside(a, b, box);
    if (enters >= leaves) continue;
    left = left.flatMap(([from, to]) => [
      ...(enters > from ? [[from, Math.min(to, enters)] as const] : []),
      ...(leaves < to ? [[Math.max(from, leaves), to] as const] : []),
    ]);
  }
  return left.map(([from, to]) => [along(a, b, from), along(a, b, to)]);
}

/** From where to where on an edge, as shares of its length, it lies in a box; the first not below the second where it does not. */
function stretchInside(a: Point, b: Point, box: Bounds): readonly [number, number] {
  let enters = 0;
  let leaves = 1;
  for (const [from, by, min, max] of [
    [a.x, b.x - a.x, box.minX, box.maxX],
    [a.y, b.y - a.y, box.minY, box.maxY],
  ] as const) {
    if (by === 0) {
      if (from < min || from > max) return [1, 0];
      continue;
    }
    const [one, other] = [(min - from) / by, (max - from) / by];
    enters = Math.max(enters, Math.min(one, other));
    leaves = Math.min(leaves, Math.max(one, other));
  }
  return [enters, leaves];
}

function along(a: Point, b: Point, share: number): Point {
  return { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) };
}
