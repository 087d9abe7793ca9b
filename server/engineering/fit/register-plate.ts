import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { BolsterFacts, CheckRules } from '../press-facts.js';
import { errorOf, FLOAT_TOLERANCE_MM, floatPlate, type HolePair, length } from './float-plate.js';
import { leastSquares } from './hole-pairing.js';
import { mostHoles } from './most-holes.js';
import { FLUSH_MM, overhangOver, worstSide } from './outline-on-face.js';
import { type Motion, nearestRightAngle, turned } from './placing.js';
import type { HoleMatch, Registration } from './registration-result.js';
import { mirrored, placementOf, type Seat, type Seating, seatingOf, seatsOf, tidy } from './seat.js';

/**
 * How the plate goes on the bolster: the rigid motion, at any angle and never mirrored, that puts every bolt hole on
 * a tapped hole of its own and the feed on the sprue.
 *
 * A hole fits when its error is at most (D - d) / 2 less the position tolerances of plate and bolster (fixed-fastener
 * rule, ASME Y14.5 appendix B, tolerances as radii), after the plate has floated by the shift and small turn that
 * suit all screws best. Among fitting motions: the largest allowance left, then the nearest to a right angle, then
 * the least turned. The excess over the allowances is exact to 1e-4 mm, the least feed offset to 1e-3 mm, and a
 * pattern that misses by less than 1e-4 mm fits. Tapped holes of one thread must lie farther apart than ten times
 * the largest allowance for partners to be certain.
 *
 * @param screwDiameterMm nominal diameter of all screws, or of each bolt hole's; only tapped holes of that coarse
 *   thread are used
 * @param facingThicknessMm of a facing plate, through which the sprue grows wider
 */
export function registerPlate(
  drawing: MeasuredDrawing,
  bolster: BolsterFacts,
  screwDiameterMm: number | readonly number[],
  rules: CheckRules,
  facingThicknessMm = 0,
): Registration {
  const ofEach =
    typeof screwDiameterMm === 'number' ? drawing.bolts.map(() => screwDiameterMm) : screwDiameterMm;
  const seating = seatingOf(drawing, bolster, ofEach, rules, facingThicknessMm);
  if (seating.bolts.length === 0 || seating.holes.length === 0) return nothingToPlace(seating);
  const mirroredFits = seatsOf(mirrored(seating)).some((seat) => seat.feedFits && seat.outlineFits);
  const seat = bestSeat(seatsOf(seating));
  return seat === null
    ? patternMissed(seating, mirroredFits, rules)
    : seated(seating, seat, mirroredFits, rules);
}

function nothingToPlace({ bolts, feedAllowanceMm }: Seating): Registration {
  return {
    fits: false,
    holesFit: false,
    feedFits: false,
    outlineFits: false,
    rotationDeg: null,
    mirroredFits: false,
    floatMm: null,
    worstErrorMm: null,
    worstErrorAfterFloatMm: null,
    allowanceMm: null,
    feedOffset: null,
    leastFeedOffsetMm: null,
    feedAllowanceMm,
    placement: null,
    matches: bolts.map(({ bolt, clearanceMm }) => unmatched(bolt, clearanceMm)),
  };
}

function seated(seating: Seating, seat: Seat, mirroredFits: boolean, rules: CheckRules): Registration {
  const { pairs, floated, feedFits, outlineFits } = seat;
  const placement = placementOf(floated.motion);
  const asDrawn = meantAngle(pairs, leastSquares(pairs).angleRad, rules);
  return {
    fits: feedFits && outlineFits,
    holesFit: true,
    feedFits,
    outlineFits,
    rotationDeg: placement.rotationDeg,
    mirroredFits,
    floatMm: placement.shift,
    ...errorsOf(pairs, floated.motion, asDrawn),
    feedOffset: placement.shift,
    leastFeedOffsetMm: tidy(seat.leastFeedOffsetMm),
    feedAllowanceMm: seating.feedAllowanceMm,
    placement,
    matches: matchesAt(seating, pairs, floated.motion),
  };
}

function patternMissed(seating: Seating, mirroredFits: boolean, rules: CheckRules): Registration {
  const most = mostHoles(seating);
  if (most === null) return { ...nothingToPlace(seating), mirroredFits };
  const { motion, pairs } = most;
  const floated = floatPlate(pairs, pairs.length === 1 ? motion : leastSquares(pairs)).motion;
  const { rotationDeg, shift } = placementOf(floated);
  const placement = placementOf(motion);
  const overhang = overhangOver(seating.drawing, placement, seating.bolster.face);
  return {
    fits: false,
    holesFit: false,
    feedFits: length(placement.shift) <= seating.feedAllowanceMm,
    outlineFits: overhang[worstSide(overhang)] <= FLUSH_MM,
    rotationDeg,
    mirroredFits,
    floatMm: shift,
    ...errorsOf(pairs, floated, meantAngle(pairs, motion.angleRad, rules)),
    feedOffset: placement.shift,
    leastFeedOffsetMm: null,
    feedAllowanceMm: seating.feedAllowanceMm,
    placement,
    matches: matchesAt(seating, pairs, motion),
  };
}

/** Largest allowance left, then nearest to a right angle, then least turned; a seat inside the face before all. */
function bestSeat(seats: readonly Seat[]): Seat | null {
  const feedOff = (seat: Seat) => (seat.feedFits ? 0 : seat.leastFeedOffsetMm);
  const wrapped = ({ floated: { motion } }: Seat) =>
    Math.atan2(Math.sin(motion.angleRad), Math.cos(motion.angleRad));
  const fromSquare = (seat: Seat) => Math.abs(wrapped(seat) - nearestRightAngle(wrapped(seat)));
  let left = least(seats, (seat) => (seat.outlineFits ? 0 : 1), 0);
  left = least(left, feedOff, 0.01);
  left = least(left, (seat) => seat.floated.excessMm, 2 * FLOAT_TOLERANCE_MM);
  left = least(left, fromSquare, 1e-5);
  left = least(left, (seat) => Math.abs(wrapped(seat)), 1e-3);
  left = least(left, (seat) => -wrapped(seat), 0);
  return left[0] ?? null;
}

/** Those whose measure is within `tolerance` of the least. */
function least(seats: readonly Seat[], measure: (seat: Seat) => number, tolerance: number): readonly Seat[] {
  const smallest = Math.min(...seats.map(measure));
  return seats.filter((seat) => measure(seat) <= smallest + tolerance);
}

/** The angle the drawing was meant at: a right angle when that moves no hole by more than its position tolerance. */
function meantAngle(pairs: readonly HolePair[], angleRad: number, rules: CheckRules): number {
  const square = nearestRightAngle(angleRad);
  const farthestMm = Math.max(...pairs.map((pair) => length(pair.from)));
  return Math.abs(angleRad - square) * farthestMm <= rules.plateHolePositionMm ? square : angleRad;
}

function errorsOf(pairs: readonly HolePair[], floated: Motion, meantAngleRad: number) {
  const onSprue = { angleRad: meantAngleRad, shift: { x: 0, y: 0 } };
  const after = pairs.map((pair) => ({ pair, errorMm: length(errorOf(pair, floated)) }));
  const deciding = after.reduce((worst, entry) =>
    entry.errorMm - entry.pair.allowanceMm > worst.errorMm - worst.pair.allowanceMm + FLOAT_TOLERANCE_MM
      ? entry
      : worst,
  );
  return {
    worstErrorMm: tidy(Math.max(...pairs.map((pair) => length(errorOf(pair, onSprue))))),
    worstErrorAfterFloatMm: tidy(Math.max(...after.map(({ errorMm }) => errorMm))),
    allowanceMm: tidy(deciding.pair.allowanceMm),
  };
}

function matchesAt(seating: Seating, pairs: readonly HolePair[], motion: Motion): readonly HoleMatch[] {
  return seating.bolts.map(({ bolt, clearanceMm, from, screwMm }) => {
    const pair = pairs.find((candidate) => candidate.bolt === bolt);
    if (pair === undefined)
      return { ...unmatched(bolt, clearanceMm), error: nearestMiss(seating, from, screwMm, motion) };
    const error = errorOf(pair, motion);
    const errorMm = length(error);
    return {
      bolt,
      hole: pair.hole,
      error: { x: tidy(error.x), y: tidy(error.y) },
      errorMm: tidy(errorMm),
      allowanceMm: tidy(pair.allowanceMm),
      matched: errorMm <= pair.allowanceMm + FLOAT_TOLERANCE_MM,
    };
  });
}

function unmatched(bolt: number, clearanceMm: number): HoleMatch {
  return {
    bolt,
    hole: null,
    error: { x: 0, y: 0 },
    errorMm: 0,
    allowanceMm: tidy(clearanceMm),
    matched: false,
  };
}

function nearestMiss({ holes }: Seating, from: HolePair['from'], screwMm: number, motion: Motion) {
  const at = turned(from, motion.angleRad);
  const own = holes.filter(({ threadMm }) => threadMm === screwMm);
  const misses = (own.length > 0 ? own : holes).map(({ to }) => ({
    x: at.x + motion.shift.x - to.x,
    y: at.y + motion.shift.y - to.y,
  }));
  return misses.reduce((nearest, miss) => (length(miss) < length(nearest) ? miss : nearest));
}
