import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { BolsterFacts, CheckRules } from '../press-facts.js';
import { threadDiameterMm } from './fasteners/iso-261-threads.js';
import {
  FLOAT_TOLERANCE_MM,
  type Floated,
  floatPlate,
  type HolePair,
  leastFeedOffset,
} from './float-plate.js';
import {
  type BoltHole,
  leastSquares,
  motionsOfTwo,
  partnersAt,
  type ScrewHole,
  SEARCH_SLACK_MM,
} from './hole-pairing.js';
import { FLUSH_MM, overhangOver, worstSide } from './outline-on-face.js';
import { type Motion, radToDeg, turned } from './placing.js';
import type { Placement } from './registration-result.js';
import { sprueAtStack } from './sprue-at-stack.js';

/** What a registration works on. The bolster's holes are those with the thread of one of the screws. */
export interface Seating {
  readonly drawing: Pick<MeasuredDrawing, 'plate' | 'feed'>;
  readonly bolster: BolsterFacts;
  readonly bolts: readonly BoltHole[];
  readonly holes: readonly ScrewHole[];
  readonly feedAllowanceMm: number;
  /** The largest allowance of any pairing, at least 0, mm. */
  readonly widestMm: number;
}

/** A way the plate goes on with every screw in. */
export interface Seat {
  readonly pairs: readonly HolePair[];
  readonly floated: Floated;
  readonly leastFeedOffsetMm: number;
  readonly feedFits: boolean;
  readonly outlineFits: boolean;
}

/** A sprue pocket drawn tight still meets its sprue this far off, mm. Common practice, no source. */
const LEAST_FEED_ALLOWANCE_MM = 0.05;

/** How far the feed may be off the sprue for the sprue's end to lie inside the pocket, mm. */
function feedAllowanceMm(feedDiameterMm: number, sprueDiameterMm: number): number {
  return Math.max((feedDiameterMm - sprueDiameterMm) / 2, LEAST_FEED_ALLOWANCE_MM);
}

/** The feed pocket's diameter: a FEED drawn as a point is as wide as the sprue's end, mm. */
export function feedDiameterMm(drawing: Pick<MeasuredDrawing, 'feed'>, sprueEndMm: number): number {
  return drawing.feed.drawnDiameterMm ?? sprueEndMm;
}

/** The holes of both sides from feed and sprue, ready to be paired. */
export function seatingOf(
  drawing: MeasuredDrawing,
  bolster: BolsterFacts,
  screwDiametersMm: readonly number[],
  rules: CheckRules,
  facingThicknessMm: number,
): Seating {
  const { endDiameterMm } = sprueAtStack(bolster, { facingThicknessMm });
  const bolts = drawing.bolts.map(({ at, diameterMm }, bolt) => {
    const screwMm = screwDiametersMm[bolt] ?? 0;
    return {
      bolt,
      from: { x: at.x - drawing.feed.at.x, y: at.y - drawing.feed.at.y },
      clearanceMm: (diameterMm - screwMm) / 2 - rules.plateHolePositionMm,
      screwMm,
    };
  });
  const holes = bolster.holes.flatMap(({ at, thread, positionMm }, hole) => {
    const threadMm = threadDiameterMm(thread);
    const isUsed = threadMm !== null && bolts.some(({ screwMm }) => screwMm === threadMm);
    return isUsed ? [{ hole, to: at, positionMm, threadMm }] : [];
  });
  const widest = Math.max(0, ...bolts.map((bolt) => bolt.clearanceMm));
  return {
    drawing,
    bolster,
    bolts,
    holes,
    feedAllowanceMm: feedAllowanceMm(feedDiameterMm(drawing, endDiameterMm), endDiameterMm),
    widestMm: Math.max(0, widest - Math.min(...holes.map((hole) => hole.positionMm))),
  };
}

/** The same plate seen from its back. */
export function mirrored(seating: Seating): Seating {
  const { drawing } = seating;
  return {
    ...seating,
    bolts: seating.bolts.map((bolt) => ({ ...bolt, from: { x: -bolt.from.x, y: bolt.from.y } })),
    drawing: {
      feed: { ...drawing.feed, at: { x: -drawing.feed.at.x, y: drawing.feed.at.y } },
      plate: { ...drawing.plate, outline: drawing.plate.outline.map(({ x, y }) => ({ x: -x, y })) },
    },
  };
}

/** Seats with the feed on the sprue; when there are none, the seats that bring the feed nearest to it. */
export function seatsOf(seating: Seating): readonly Seat[] {
  const motions = wholePatternMotions(seating)
    .map((motion) => ({ motion, offMm: Math.hypot(motion.shift.x, motion.shift.y) }))
    .sort((one, other) => one.offMm - other.offMm);
  const reachMm = reachOf(seating);
  const near = motions.filter(({ offMm }) => offMm <= seating.feedAllowanceMm + reachMm);
  const onSprue = near.flatMap(({ motion }) => seatAt(seating, motion)).filter((seat) => seat.feedFits);
  if (onSprue.length > 0) return onSprue;
  const seats: Seat[] = [];
  let enoughMm = Number.POSITIVE_INFINITY;
  for (const { motion, offMm } of motions) {
    if (offMm > enoughMm) break;
    const found = seatAt(seating, motion);
    if (found.length > 0) enoughMm = Math.min(enoughMm, offMm + reachMm);
    seats.push(...found);
  }
  return seats;
}

/** Where two far-apart holes of the plate find partners: no fitting motion is farther from one of these than `reachOf`. */
function wholePatternMotions({ bolts, holes, widestMm }: Seating): readonly Motion[] {
  const [first] = bolts;
  if (first === undefined || bolts.length > holes.length) return [];
  if (bolts.length === 1) {
    return holes.map(({ to }) => {
      const angleRad = Math.atan2(to.y, to.x) - Math.atan2(first.from.y, first.from.x);
      const lands = turned(first.from, angleRad);
      return { angleRad, shift: { x: to.x - lands.x, y: to.y - lands.y } };
    });
  }
  const one = farthestFrom(first, bolts);
  return motionsOfTwo(one, farthestFrom(one, bolts), holes, 2 * widestMm + SEARCH_SLACK_MM);
}

function farthestFrom(bolt: BoltHole, bolts: readonly BoltHole[]): BoltHole {
  const apart = (other: BoltHole) => Math.hypot(other.from.x - bolt.from.x, other.from.y - bolt.from.y);
  return bolts.reduce((far, other) => (apart(other) > apart(far) ? other : far));
}

/** Two matched holes pin a fitting motion to within this at every hole: its own allowance, and twice that of the two. */
function reachOf({ widestMm }: Seating): number {
  return 5 * widestMm + SEARCH_SLACK_MM;
}

function seatAt(seating: Seating, motion: Motion): readonly Seat[] {
  const pairs = partnersAt(motion, seating.bolts, seating.holes, reachOf(seating), true);
  if (pairs === null) return [];
  const floated = floatPlate(pairs, pairs.length === 1 ? motion : leastSquares(pairs));
  if (floated.excessMm > FLOAT_TOLERANCE_MM) return [];
  const leastFeedOffsetMm = leastFeedOffset(pairs, floated);
  const overhang = overhangOver(seating.drawing, placementOf(floated.motion), seating.bolster.face);
  return [
    {
      pairs,
      floated,
      leastFeedOffsetMm,
      feedFits: leastFeedOffsetMm <= seating.feedAllowanceMm + FLOAT_TOLERANCE_MM,
      outlineFits: overhang[worstSide(overhang)] <= FLUSH_MM,
    },
  ];
}

/** The motion as it is reported. */
export function placementOf(motion: Motion): Placement {
  return {
    rotationDeg: radToDeg(motion.angleRad),
    shift: { x: tidy(motion.shift.x), y: tidy(motion.shift.y) },
  };
}

/** To a millionth of a millimetre, and never -0. */
export function tidy(lengthMm: number): number {
  return Math.round(lengthMm * 1e6) / 1e6 + 0;
}
