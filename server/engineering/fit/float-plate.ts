import type { Point } from '../geometry/point.js';
import { type Cone, leastSlack } from './cone-program.js';
import { type Motion, nearestRightAngle, turned } from './placing.js';

/** A bolt hole with its tapped hole. */
export interface HolePair {
  readonly bolt: number;
  readonly hole: number;
  /** The bolt hole from the feed, drawing directions, mm. */
  readonly from: Point;
  /** The tapped hole from the sprue axis, bolster directions, mm. */
  readonly to: Point;
  /** Room between hole and screw once both position tolerances are used up, mm; negative when there is none. */
  readonly allowanceMm: number;
}

/** What floating comes to: the motion and the largest of |error| - allowance, mm. It goes on when that is not positive. */
export interface Floated {
  readonly motion: Motion;
  readonly excessMm: number;
}

/** Motions whose excess differs by less than this count as equally good; the results are that near the best, mm. */
export const FLOAT_TOLERANCE_MM = 1e-4;

/** Turns are relinearised until the square they leave out is below this, mm. */
const LEFT_OUT_MM = 5e-6;
const PASSES = 6;

/**
 * The shift and small turn that leave the least excess over the allowances: minimum of max(|e_i| - a_i), the
 * fixed-fastener rule (ASME Y14.5, appendix B) for a whole pattern. Exact to 1e-4 mm for turns near the motion
 * given; a motion square to the bolster with the feed on the sprue is preferred when it is as good to 1e-4 mm.
 *
 * @param pairs at least one
 * @param near  a motion with roughly the right angle
 */
export function floatPlate(pairs: readonly HolePair[], near: Motion): Floated {
  const square: Motion = { angleRad: nearestRightAngle(near.angleRad), shift: { x: 0, y: 0 } };
  const bestThereIs = -Math.min(...pairs.map((pair) => pair.allowanceMm));
  const excessSquare = excess(pairs, square);
  if (excessSquare <= bestThereIs + FLOAT_TOLERANCE_MM / 2) return { motion: square, excessMm: excessSquare };
  const free = floated(pairs, near, true);
  const upright = floated(pairs, { angleRad: square.angleRad, shift: free.motion.shift }, false);
  const asGood = upright.excessMm <= free.excessMm + FLOAT_TOLERANCE_MM / 2 ? upright : free;
  const onSprue: Motion = { angleRad: asGood.motion.angleRad, shift: { x: 0, y: 0 } };
  const excessOnSprue = excess(pairs, onSprue);
  return excessOnSprue <= free.excessMm + FLOAT_TOLERANCE_MM / 2
    ? { motion: onSprue, excessMm: excessOnSprue }
    : asGood;
}

/**
 * The least the feed can be off the sprue with every screw still going in, mm, to 1e-3 mm. Equals the float's own
 * shift when the screws have no room left.
 */
export function leastFeedOffset(pairs: readonly HolePair[], best: Floated): number {
  const upright = { angleRad: best.motion.angleRad, shift: { x: 0, y: 0 } };
  if (excess(pairs, upright) <= 0) return 0;
  const radius = leverRadius(pairs);
  let about = best.motion;
  let offsetMm = length(best.motion.shift);
  for (let pass = 0; pass < 3; pass++) {
    if (excess(pairs, about) > -FLOAT_TOLERANCE_MM / 10) return offsetMm;
    const { cones, start } = conesAbout(pairs, about, radius, 0, true);
    const offset: Cone = { startX: start.x, startY: start.y, leverX: 0, leverY: 0, room: 0, loosens: 1 };
    const least = leastSlack([...cones, offset], { turn: 0, x: 0, y: 0, slack: length(start) + 0.1 });
    offsetMm = least.slack;
    about = between(best.motion, {
      angleRad: about.angleRad + least.turn / radius,
      shift: { x: start.x + least.x, y: start.y + least.y },
    });
  }
  return offsetMm;
}

/** The largest of |error| - allowance at a motion, mm. */
export function excess(pairs: readonly HolePair[], motion: Motion): number {
  let worst = Number.NEGATIVE_INFINITY;
  for (const pair of pairs) worst = Math.max(worst, length(errorOf(pair, motion)) - pair.allowanceMm);
  return worst;
}

/** Where the bolt hole lands, minus its tapped hole. */
export function errorOf(pair: HolePair, motion: Motion): Point {
  const lands = turned(pair.from, motion.angleRad);
  return { x: lands.x + motion.shift.x - pair.to.x, y: lands.y + motion.shift.y - pair.to.y };
}

function floated(pairs: readonly HolePair[], near: Motion, mayTurn: boolean): Floated {
  const radius = leverRadius(pairs);
  let best: Floated = { motion: near, excessMm: excess(pairs, near) };
  for (let pass = 0; pass < PASSES; pass++) {
    const { cones } = conesAbout(pairs, best.motion, radius, 1, mayTurn);
    const least = leastSlack(cones, { turn: 0, x: 0, y: 0, slack: best.excessMm + 0.1 });
    const motion = {
      angleRad: best.motion.angleRad + (mayTurn ? least.turn / radius : 0),
      shift: { x: best.motion.shift.x + least.x, y: best.motion.shift.y + least.y },
    };
    const excessMm = excess(pairs, motion);
    if (excessMm < best.excessMm) best = { motion, excessMm };
    else return best;
    if (!mayTurn || least.turn ** 2 / radius < LEFT_OUT_MM) return best;
  }
  return best;
}

/** The limits of the screws, linear in a small turn about the middle of the holes. */
function conesAbout(
  pairs: readonly HolePair[],
  motion: Motion,
  radius: number,
  loosens: 0 | 1,
  mayTurn: boolean,
): { readonly cones: readonly Cone[]; readonly start: Point } {
  const cones = pairs.map((pair): Cone => {
    const lever = turned(pair.from, motion.angleRad);
    const error = errorOf(pair, motion);
    return {
      startX: error.x,
      startY: error.y,
      leverX: mayTurn ? -lever.y / radius : 0,
      leverY: mayTurn ? lever.x / radius : 0,
      room: pair.allowanceMm,
      loosens,
    };
  });
  return { cones, start: motion.shift };
}

/** The farthest hole from the feed: turns are counted as arcs there, so that they weigh like shifts. */
function leverRadius(pairs: readonly HolePair[]): number {
  return Math.max(1, ...pairs.map((pair) => length(pair.from)));
}

function between(one: Motion, other: Motion): Motion {
  return {
    angleRad: (one.angleRad + other.angleRad) / 2,
    shift: { x: (one.shift.x + other.shift.x) / 2, y: (one.shift.y + other.shift.y) / 2 },
  };
}

export function length(vector: Point): number {
  return Math.hypot(vector.x, vector.y);
}
