import { excess, type HolePair } from './float-plate.js';
import {
  leastSquares,
  motionsAboutSprue,
  motionsOfTwo,
  partnersAt,
  SEARCH_SLACK_MM,
} from './hole-pairing.js';
import { type Motion, nearestRightAngle, turned } from './placing.js';
import type { Seating } from './seat.js';

/** The placement that tells best which holes are wrong, for a pattern that does not go on. */
export interface MostHoles {
  readonly motion: Motion;
  /** Every bolt hole that has a tapped hole left for it, those that land first. */
  readonly pairs: readonly HolePair[];
}

interface Consensus {
  readonly motion: Motion;
  readonly landing: readonly HolePair[];
  /** Holes that land, the feed on the sprue counting as one. */
  readonly votes: number;
  readonly feedOnSprue: boolean;
}

/** Enough to meet every pair of twelve holes; the rest would not change who is wrong. */
const MOST_PAIRS = 66;
const LANDS_WITHIN_MM = 0.02;

/**
 * The motion at which the most holes land, the feed counting as one of them; among equals the feed on the sprue,
 * then the least distance of the others, then the squarer, then the less turned.
 */
export function mostHoles(seating: Seating): MostHoles | null {
  const tried = new Set<string>();
  let found: Consensus[] = [];
  let most = 0;
  for (const motion of candidateMotions(seating)) {
    const key = motionKey(motion);
    if (tried.has(key)) continue;
    tried.add(key);
    const consensus = consensusAt(seating, motion, most);
    if (consensus === null) continue;
    if (consensus.votes > most) found = [];
    most = consensus.votes;
    found.push(consensus);
  }
  const best = found
    .map((consensus) => ({ consensus, pairs: withNearestFree(seating, consensus) }))
    .map((entry) => ({ ...entry, rank: rankOf(entry.consensus, entry.pairs) }))
    .reduce<{
      readonly consensus: Consensus;
      readonly pairs: readonly HolePair[];
      readonly rank: readonly number[];
    } | null>((best, entry) => (best === null || isBefore(entry.rank, best.rank) ? entry : best), null);
  return best === null ? null : { motion: best.consensus.motion, pairs: best.pairs };
}

/** As drawn and by quarter turns first: what is left when not even two holes have the distance of two tapped ones. */
function* candidateMotions({ bolts, holes, widestMm, feedAllowanceMm }: Seating): Generator<Motion> {
  for (const quarters of [0, 1, 2, -1]) yield { angleRad: (quarters * Math.PI) / 2, shift: { x: 0, y: 0 } };
  for (const bolt of bolts.slice(0, MOST_PAIRS)) {
    yield* motionsAboutSprue(bolt, holes, feedAllowanceMm + widestMm + SEARCH_SLACK_MM);
  }
  let pairs = 0;
  for (const [index, one] of bolts.entries()) {
    for (const other of bolts.slice(index + 1)) {
      if (++pairs > MOST_PAIRS) return;
      yield* motionsOfTwo(one, other, holes, 2 * widestMm + SEARCH_SLACK_MM);
    }
  }
}

function motionKey({ angleRad, shift }: Motion): string {
  const quarterDegrees = Math.round((((angleRad * 720) / Math.PI) % 1440) + 1440) % 1440;
  return `${quarterDegrees} ${Math.round(shift.x * 4)} ${Math.round(shift.y * 4)}`;
}

/** Null when fewer holes land than `most`. */
function consensusAt(seating: Seating, near: Motion, most: number): Consensus | null {
  const { bolts, holes, widestMm, feedAllowanceMm } = seating;
  const around = partnersAt(near, bolts, holes, 2 * widestMm + 2 * SEARCH_SLACK_MM, false) ?? [];
  if (around.length + 1 < most) return null;
  const isOnSprue = ({ shift }: Motion) => Math.hypot(shift.x, shift.y) <= feedAllowanceMm;
  const square = {
    angleRad: nearestRightAngle(near.angleRad),
    shift: isOnSprue(near) ? { x: 0, y: 0 } : near.shift,
  };
  const settled = around.length < 2 ? near : leastSquares(around);
  const best = [square, near, settled]
    .map((motion) => ({ motion, landing: around.filter((pair) => lands(pair, motion)) }))
    .reduce((best, entry) => (entry.landing.length > best.landing.length ? entry : best));
  const feedOnSprue = isOnSprue(best.motion);
  const votes = best.landing.length + (feedOnSprue ? 1 : 0);
  return votes < most ? null : { ...best, feedOnSprue, votes };
}

function lands(pair: HolePair, motion: Motion): boolean {
  return excess([pair], motion) <= Math.max(0, -pair.allowanceMm) + LANDS_WITHIN_MM;
}

/** The holes that land keep their partners; each of the others gets the nearest tapped hole still free. */
function withNearestFree({ bolts, holes }: Seating, { motion, landing }: Consensus): readonly HolePair[] {
  const taken = new Set(landing.map((pair) => pair.hole));
  const paired = new Set(landing.map((pair) => pair.bolt));
  const left = bolts.filter((bolt) => !paired.has(bolt.bolt));
  const free = holes.filter((hole) => !taken.has(hole.hole));
  return [...landing, ...(partnersAt(motion, left, free, Number.POSITIVE_INFINITY, false) ?? [])];
}

function rankOf({ motion, landing, feedOnSprue }: Consensus, pairs: readonly HolePair[]): readonly number[] {
  let apartMm = 0;
  for (const pair of pairs.slice(landing.length)) {
    const at = turned(pair.from, motion.angleRad);
    apartMm += Math.hypot(at.x + motion.shift.x - pair.to.x, at.y + motion.shift.y - pair.to.y);
  }
  const fromSquare = Math.abs(motion.angleRad - nearestRightAngle(motion.angleRad));
  const wrapped = Math.atan2(Math.sin(motion.angleRad), Math.cos(motion.angleRad));
  return [
    feedOnSprue ? 0 : 1,
    Math.round(apartMm * 100),
    Math.round(fromSquare * 1e4),
    Math.round(Math.abs(wrapped) * 1e4),
    -wrapped,
  ];
}

function isBefore(one: readonly number[], other: readonly number[]): boolean {
  const at = one.findIndex((value, index) => value !== other[index]);
  return at >= 0 && (one[at] ?? 0) < (other[at] ?? 0);
}
