import type { Point, Ring } from '../geometry/point.js';
import type { Rim } from './rim.js';

/** Where two walls of a cut meet so that a round cutter cannot go all the way in. */
export interface InsideCorner {
  readonly at: Point;
  /** Between the walls, in the cut, rad; 90° in a rectangle. */
  readonly angleRad: number;
  /** As drawn; 0 when sharp. */
  readonly radiusMm: number;
}

/** A wall that turns inwards by more than this at one point is a sharp corner; an arc is flattened finer, rad. */
const SHARP_TURN = 0.6;
/** Less than this is no corner: a cutter of any size leaves next to nothing, rad. */
const SLIGHT_TURN = 0.35;
/** Turned almost right round it is the end of a channel, which its width tells about, rad. */
const END_TURN = 2.7;
const BEYOND_MM = 0.03;

/** The inside corners of a rim that are drawn sharp or with a radius under `belowMm`, the sharpest first. */
export function insideCorners(
  rim: Rim,
  belowMm: number,
  cutAsDeep: (at: Point) => boolean,
): readonly InsideCorner[] {
  let edge = 0;
  const corners: FoundCorner[] = [];
  for (const ring of rim.own) {
    corners.push(...cornersOf(ring, edge, rim.open, belowMm));
    edge += ring.length;
  }
  return corners
    .filter((corner) => corner.angleRad > Math.PI - END_TURN && !cutAsDeep(behind(corner)))
    .map(({ at, angleRad, radiusMm }) => ({ at, angleRad, radiusMm }))
    .sort((a, b) => staysMm(b, belowMm) - staysMm(a, belowMm));
}

/** How far into a corner metal stays that a cutter of a radius cannot reach, along the line that halves it, mm. */
export function staysMm({ angleRad, radiusMm }: InsideCorner, cutterRadiusMm: number): number {
  return Math.max(0, cutterRadiusMm - radiusMm) * (1 / Math.sin(angleRad / 2) - 1);
}

/** The largest cutter radius that leaves no more than `mostMm` in a corner, mm. */
export function radiusLeaving({ angleRad, radiusMm }: InsideCorner, mostMm: number): number {
  return radiusMm + mostMm / (1 / Math.sin(angleRad / 2) - 1);
}

interface FoundCorner extends InsideCorner {
  /** Unit vector out of the cut, between the two walls. */
  readonly outX: number;
  readonly outY: number;
}

function behind({ at, outX, outY }: FoundCorner): Point {
  return { x: at.x + BEYOND_MM * outX, y: at.y + BEYOND_MM * outY };
}

/** Runs of points at which the wall turns inwards on less than the radius, one corner each. */
function cornersOf(ring: Ring, firstEdge: number, open: Uint8Array, belowMm: number): readonly FoundCorner[] {
  const count = ring.length;
  const corners: FoundCorner[] = [];
  let run: (Run & { alongMm: number }) | null = null;
  const close = () => {
    if (run !== null && run.turn > SLIGHT_TURN) corners.push(cornerOf(ring, run));
    run = null;
  };
  const start = firstOutside(ring, belowMm);
  for (let n = 0; n < count; n++) {
    const i = (start + n) % count;
    const { turn, radiusMm, beforeMm } = turnAt(ring, i);
    const wall = open[firstEdge + i] === 0 && open[firstEdge + ((i + 1) % count)] === 0;
    if (wall && turn > SHARP_TURN) {
      close();
      corners.push(cornerOf(ring, { turn, radiusMm: 0, first: i, last: i }));
      continue;
    }
    if (!wall || turn <= 1e-6 || radiusMm >= belowMm) {
      close();
      continue;
    }
    if (run === null) run = { turn, alongMm: 0, radiusMm, first: i, last: i };
    else {
      run.turn += turn;
      run.alongMm += beforeMm;
      run.radiusMm = run.alongMm / run.turn;
      run.last = i;
    }
  }
  close();
  return corners;
}

/** Points of a ring at which it turns inwards, one after the other. */
interface Run {
  turn: number;
  radiusMm: number;
  readonly first: number;
  last: number;
}

/** A point in no corner, so that no corner is begun in its middle. */
function firstOutside(ring: Ring, belowMm: number): number {
  for (let i = 0; i < ring.length; i++) {
    const { turn, radiusMm } = turnAt(ring, i);
    if (turn > SHARP_TURN || turn <= 1e-6 || radiusMm >= belowMm) return i;
  }
  return 0;
}

/** How far a ring turns at a point, on which radius, and how long the edge before it is. */
function turnAt(ring: Ring, i: number) {
  const count = ring.length;
  const [a, v, b] = [ring[(i + count - 1) % count], ring[i], ring[(i + 1) % count]] as [Point, Point, Point];
  const [ux, uy, wx, wy] = [v.x - a.x, v.y - a.y, b.x - v.x, b.y - v.y];
  const turn = Math.atan2(ux * wy - uy * wx, ux * wx + uy * wy);
  const shorterMm = Math.sqrt(Math.min(ux * ux + uy * uy, wx * wx + wy * wy));
  const radiusMm = turn <= 0 ? Infinity : shorterMm / 2 / Math.tan(turn / 2);
  return { turn, radiusMm, beforeMm: Math.hypot(ux, uy) };
}

function cornerOf(ring: Ring, run: Run): FoundCorner {
  const count = ring.length;
  const steps = (run.last - run.first + count) % count;
  const [a, v, b] = [
    ring[(run.first + count - 1) % count],
    ring[(run.first + Math.floor(steps / 2)) % count],
    ring[(run.last + 1) % count],
  ] as [Point, Point, Point];
  const [from, to] = [unit(a, v), unit(b, v)];
  const [x, y] = [from.x + to.x, from.y + to.y];
  const length = Math.hypot(x, y) || 1;
  return { at: v, angleRad: Math.PI - run.turn, radiusMm: run.radiusMm, outX: x / length, outY: y / length };
}

function unit(from: Point, to: Point): Point {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  return { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
}
