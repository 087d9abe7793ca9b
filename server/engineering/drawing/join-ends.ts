import type { Point } from '../geometry/point.js';
import { type NearbyPair, nearbyPairs } from './nearby-pairs.js';
import type { Stroke } from './stroke.js';

/** Ends this near belong together; part of the convention for plate drawings, mm. */
export const JOIN_MM = 0.05;
/** Ends this near are one corner as drawn; what is farther was rounded or drawn by eye, mm. */
const CORNER_MM = 0.001;
/** A stroke may close on itself only if it is longer than a few gaps, mm. */
const SHORTEST_LOOP_MM = 4 * JOIN_MM;

/** A run of strokes joined end to end. A closed one does not repeat its first point. */
export interface Chain {
  readonly entity: string;
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/**
 * Joins open strokes whose ends lie together: first those that share a corner, then the nearest of the rest. Where more
 * than two ends share a corner, loops that begin and end there are closed first and the rest go straight on.
 * @throws TooIntricate when too many ends lie in one place
 */
export function joinEnds(strokes: readonly Stroke[]): Chain[] {
  const ends = strokes.flatMap(({ points }) => [points[0] as Point, points.at(-1) as Point]);
  const mates = new Int32Array(ends.length).fill(-1);
  const isFree = (end: number) => (mates[end] as number) < 0;
  const mate = (i: number, j: number) => {
    if (!isFree(i) || !isFree(j)) return;
    mates[i] = j;
    mates[j] = i;
  };
  const mayMeet = ({ i, j }: NearbyPair) => i >> 1 !== j >> 1 || canLoop(strokes[i >> 1] as Stroke);

  const corners = nearbyPairs(ends, CORNER_MM).filter(mayMeet);
  const crowd = crowdedCorners(corners, ends.length);
  for (const { i, j } of corners) if (!crowd.has(i) && !crowd.has(j)) mate(i, j);
  const crowded = corners.filter(({ i }) => crowd.has(i));
  for (const { i, j } of crowded) if (otherEnd(mates, i) === j) mate(i, j);
  crowded.sort((a, b) => bend(strokes, a.i, a.j) - bend(strokes, b.i, b.j));
  for (const { i, j } of crowded) mate(i, j);

  const loose = ends.flatMap((_, end) => (isFree(end) ? [end] : []));
  const gaps = nearbyPairs(
    loose.map((end) => ends[end] as Point),
    JOIN_MM,
  )
    .map(({ i, j, distanceMm }) => ({ i: loose[i] as number, j: loose[j] as number, distanceMm }))
    .filter(mayMeet)
    .sort((a, b) => a.distanceMm - b.distanceMm);
  for (const { i, j } of gaps) mate(i, j);
  return chainsOf(strokes, mates);
}

function canLoop({ points }: Stroke): boolean {
  let length = 0;
  for (let i = 1; i < points.length && length <= SHORTEST_LOOP_MM; i++) {
    const [a, b] = [points[i - 1] as Point, points[i] as Point];
    length += Math.hypot(b.x - a.x, b.y - a.y);
  }
  return length > SHORTEST_LOOP_MM;
}

/** The ends that share a corner with at least two others. */
function crowdedCorners(corners: readonly NearbyPair[], count: number): ReadonlySet<number> {
  const neighbours = new Uint32Array(count);
  for (const { i, j } of corners) {
    neighbours[i] = (neighbours[i] as number) + 1;
    neighbours[j] = (neighbours[j] as number) + 1;
  }
  const crowd = new Set<number>();
  for (const { i, j } of corners) {
    if ((neighbours[i] as number) > 1 || (neighbours[j] as number) > 1) crowd.add(i).add(j);
  }
  return crowd;
}

/** The free end at the far side of the chain that begins with the free end `end`. */
function otherEnd(mates: Int32Array, end: number): number {
  let far = end ^ 1;
  while ((mates[far] as number) >= 0 && mates[far] !== end) far = (mates[far] as number) ^ 1;
  return far;
}

/** -1 where two strokes go straight on into each other at these ends, 1 where one turns back on the other. */
function bend(strokes: readonly Stroke[], i: number, j: number): number {
  const [a, b] = [leaving(strokes, i), leaving(strokes, j)];
  return a.x * b.x + a.y * b.y;
}

function leaving(strokes: readonly Stroke[], end: number): Point {
  const { points } = strokes[end >> 1] as Stroke;
  const [from, to] = (end & 1) === 0 ? [points[0], points[1]] : [points.at(-1), points.at(-2)];
  const [dx, dy] = [(to as Point).x - (from as Point).x, (to as Point).y - (from as Point).y];
  const length = Math.hypot(dx, dy) || 1;
  return { x: dx / length, y: dy / length };
}

function chainsOf(strokes: readonly Stroke[], mates: Int32Array): Chain[] {
  const used = new Uint8Array(strokes.length);
  const chains: Chain[] = [];
  const follow = (first: number) => {
    const points: Point[] = [];
    let end = first;
    do {
      used[end >> 1] = 1;
      append(points, directed(strokes, end));
      end = mates[end ^ 1] as number;
    } while (end >= 0 && end !== first);
    const closed = end === first;
    if (closed) closeUp(points);
    chains.push({ entity: (strokes[first >> 1] as Stroke).entity, points, closed });
  };
  for (let end = 0; end < mates.length; end++) if (mates[end] === -1 && !used[end >> 1]) follow(end);
  for (let stroke = 0; stroke < strokes.length; stroke++) if (!used[stroke]) follow(2 * stroke);
  return chains;
}

/** A stroke's points, running away from the given end. */
function directed(strokes: readonly Stroke[], end: number): readonly Point[] {
  const { points } = strokes[end >> 1] as Stroke;
  return (end & 1) === 0 ? points : [...points].reverse();
}

/** Two ends become one, halfway. */
function append(points: Point[], more: readonly Point[]): void {
  const last = points.pop();
  points.push(last ? halfway(last, more[0] as Point) : (more[0] as Point));
  for (let i = 1; i < more.length; i++) points.push(more[i] as Point);
}

function closeUp(points: Point[]): void {
  const last = points.pop();
  if (last && points[0]) points[0] = halfway(points[0], last);
}

function halfway(a: Point, b: Point): Point {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}
