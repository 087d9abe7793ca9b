import type { Point } from '../geometry/point.js';
import type { HolePair } from './float-plate.js';
import { type Motion, turned } from './placing.js';

/** A bolt hole as the pairing sees it: from the feed, with its clearance as a radius less the plate's tolerance, mm. */
export interface BoltHole {
  readonly bolt: number;
  readonly from: Point;
  readonly clearanceMm: number;
  /** Nominal diameter of its screw, mm: it goes into a thread of that size only. */
  readonly screwMm: number;
}

/** A tapped hole with the thread of one of the screws, from the sprue axis. */
export interface ScrewHole {
  readonly hole: number;
  readonly to: Point;
  readonly positionMm: number;
  readonly threadMm: number;
}

/** What hole errors can add up to before a pairing is looked at, beyond the allowances themselves, mm. */
export const SEARCH_SLACK_MM = 0.05;

/** The allowance of one pairing, mm: the fixed-fastener rule, both position tolerances as radii. */
function pairOf(bolt: BoltHole, hole: ScrewHole): HolePair {
  return {
    bolt: bolt.bolt,
    hole: hole.hole,
    from: bolt.from,
    to: hole.to,
    allowanceMm: bolt.clearanceMm - hole.positionMm,
  };
}

/**
 * Every motion that lays the line between two bolt holes on the line between two tapped holes of about the same
 * distance, middle on middle.
 *
 * @param slackMm how far the two distances may differ
 */
export function motionsOfTwo(
  one: BoltHole,
  other: BoltHole,
  holes: readonly ScrewHole[],
  slackMm: number,
): readonly Motion[] {
  const acrossX = other.from.x - one.from.x;
  const acrossY = other.from.y - one.from.y;
  const across = Math.hypot(acrossX, acrossY);
  if (across < SEARCH_SLACK_MM) return [];
  const heading = Math.atan2(acrossY, acrossX);
  const middle = { x: (one.from.x + other.from.x) / 2, y: (one.from.y + other.from.y) / 2 };
  const motions: Motion[] = [];
  for (const first of holes) {
    if (first.threadMm !== one.screwMm) continue;
    for (const second of holes) {
      if (second.threadMm !== other.screwMm) continue;
      const x = second.to.x - first.to.x;
      const y = second.to.y - first.to.y;
      if (first === second || Math.abs(Math.hypot(x, y) - across) > slackMm) continue;
      const angleRad = Math.atan2(y, x) - heading;
      const lands = turned(middle, angleRad);
      const shift = {
        x: (first.to.x + second.to.x) / 2 - lands.x,
        y: (first.to.y + second.to.y) / 2 - lands.y,
      };
      motions.push({ angleRad, shift });
    }
  }
  return motions;
}

/** Every motion that turns one bolt hole about the sprue into line with a tapped hole; the feed stays on the sprue. */
export function motionsAboutSprue(
  bolt: BoltHole,
  holes: readonly ScrewHole[],
  slackMm: number,
): readonly Motion[] {
  const reach = Math.hypot(bolt.from.x, bolt.from.y);
  return holes
    .filter(
      (hole) =>
        hole.threadMm === bolt.screwMm && Math.abs(Math.hypot(hole.to.x, hole.to.y) - reach) <= slackMm,
    )
    .map((hole) => ({
      angleRad: reach === 0 ? 0 : Math.atan2(hole.to.y, hole.to.x) - Math.atan2(bolt.from.y, bolt.from.x),
      shift: { x: 0, y: 0 },
    }));
}

/**
 * Partners one to one at a motion, nearest first; a bolt hole with no tapped hole within `reachMm` of it stays
 * without. Null as soon as `needAll` cannot be met.
 */
export function partnersAt(
  motion: Motion,
  bolts: readonly BoltHole[],
  holes: readonly ScrewHole[],
  reachMm: number,
  needAll: boolean,
): readonly HolePair[] | null {
  const meetings: { readonly pair: HolePair; readonly apartMm: number }[] = [];
  for (const bolt of bolts) {
    const lands = turned(bolt.from, motion.angleRad);
    let any = false;
    for (const hole of holes) {
      if (hole.threadMm !== bolt.screwMm) continue;
      const apartX = lands.x + motion.shift.x - hole.to.x;
      const apartY = lands.y + motion.shift.y - hole.to.y;
      if (Math.abs(apartX) > reachMm || Math.abs(apartY) > reachMm) continue;
      const apartMm = Math.hypot(apartX, apartY);
      if (apartMm > reachMm) continue;
      meetings.push({ pair: pairOf(bolt, hole), apartMm });
      any = true;
    }
    if (needAll && !any) return null;
  }
  meetings.sort((one, other) => one.apartMm - other.apartMm);
  const taken = new Set<number>();
  const partners = new Map<number, HolePair>();
  for (const { pair } of meetings) {
    if (taken.has(pair.hole) || partners.has(pair.bolt)) continue;
    taken.add(pair.hole);
    partners.set(pair.bolt, pair);
  }
  return needAll && partners.size < bolts.length ? null : [...partners.values()];
}

/** The turn and shift with the least sum of squared errors (the orthogonal Procrustes problem in the plane). */
export function leastSquares(pairs: readonly HolePair[]): Motion {
  const n = pairs.length;
  const from = { x: sum(pairs, (p) => p.from.x) / n, y: sum(pairs, (p) => p.from.y) / n };
  const to = { x: sum(pairs, (p) => p.to.x) / n, y: sum(pairs, (p) => p.to.y) / n };
  const angleRad = squaresAngle(pairs, from, to);
  const lands = turned(from, angleRad);
  return { angleRad, shift: { x: to.x - lands.x, y: to.y - lands.y } };
}

function squaresAngle(pairs: readonly HolePair[], from: Point, to: Point): number {
  const cross = sum(
    pairs,
    (p) => (p.from.x - from.x) * (p.to.y - to.y) - (p.from.y - from.y) * (p.to.x - to.x),
  );
  const dot = sum(
    pairs,
    (p) => (p.from.x - from.x) * (p.to.x - to.x) + (p.from.y - from.y) * (p.to.y - to.y),
  );
  return Math.atan2(cross, dot);
}

function sum(pairs: readonly HolePair[], term: (pair: HolePair) => number): number {
  let total = 0;
  for (const pair of pairs) total += term(pair);
  return total;
}
