import type { Bolt, MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure } from '../finding.js';
import type { Point } from '../geometry/point.js';
import type { BolsterFacts, CheckRules, PlateFacts } from '../press-facts.js';
import { type ScrewSize, threadDiameterMm } from './fasteners/iso-261-threads.js';
import { CLEARANCE_HOLES } from './fasteners/iso-273-holes.js';
import { CAP_SCREWS } from './fasteners/iso-4762-screws.js';
import { freeHolesUnder, inDrawingPlace, outsideScrewsMm, placedScrews } from './holding-force.js';
import { AS_DRAWN } from './placing.js';
import { registerPlate } from './register-plate.js';
import type { HoleMatch, Registration } from './registration-result.js';
import { screwDiametersMm, screwGroupOf, screwOfGroup } from './screw-of-bolt.js';
import { knownScrew } from './screw-seats.js';

/** What a bolt pattern is judged from. */
export interface BoltPatternInput {
  readonly drawing: MeasuredDrawing;
  readonly plate: PlateFacts;
  readonly bolster: BolsterFacts;
  readonly registration: Registration;
  readonly rules: CheckRules;
}

/** Metal kept round a hole that is added, mm: as for a wall beside a hole. Common practice, no source. */
const RIM_MM = 3;

/** With more holes wrong than this the drawing wants its whole pattern looked at, not holes moved one by one. */
const MOST_WRONG = 24;

/** Every cure here has been tried: with it the pattern goes on. */
export function boltPatternCures(input: BoltPatternInput, wrong: readonly HoleMatch[]): readonly Cure[] {
  if (wrong.length > MOST_WRONG) return [];
  const tries = [openHoles(input, wrong), moveHoles(input, wrong), leaveOut(input, wrong)];
  return tries.flat();
}

/** Put the wrong holes where their tapped holes are, told in the drawing's directions. */
function moveHoles(input: BoltPatternInput, wrong: readonly HoleMatch[]): readonly Cure[] {
  const { drawing, bolster, registration } = input;
  const { placement } = registration;
  if (placement === null || wrong.some((match) => match.hole === null)) return [];
  const moves = wrong
    .map((match) => {
      const bolt = drawing.bolts[match.bolt];
      const tapped = bolster.holes[match.hole ?? -1];
      const from = bolt?.at ?? drawing.feed.at;
      const to = tapped === undefined ? from : inDrawingPlace(tapped.at, drawing.feed.at, placement);
      return { bolt: match.bolt, from, to, farMm: Math.hypot(to.x - from.x, to.y - from.y) };
    })
    .sort((one, other) => other.farMm - one.farMm);
  const first = moves[0];
  if (first === undefined) return [];
  const moved = withBolts(drawing, (bolt, index) => {
    const move = moves.find((candidate) => candidate.bolt === index);
    return move === undefined ? bolt : { ...bolt, at: move.to };
  });
  if (!goesOn(input, moved)) return [];
  const figures = {
    holeNumbers: moves.map(({ bolt }) => bolt + 1),
    dxMm: moves.map(({ from, to }) => to.x - from.x),
    dyMm: moves.map(({ from, to }) => to.y - from.y),
    toXMm: moves.map(({ to }) => to.x),
    toYMm: moves.map(({ to }) => to.y),
  };
  const code = moves.length === 1 ? 'move-hole' : 'move-holes';
  return [{ code, amount: first.farMm, unit: 'mm', figures, at: first.from }];
}

/**
 * Drill the wrong holes, or all that have their screw, to a wider series of ISO 273, where the head still seats on the
 * rim. Only where one kind of screw is wrong. A group that goes by its holes' diameter is opened whole, and goes by the
 * new one.
 */
function openHoles(input: BoltPatternInput, wrong: readonly HoleMatch[]): readonly Cure[] {
  const { drawing, plate } = input;
  const groupOf = (bolt: number) => screwGroupOf(plate, drawing.bolts, bolt);
  const [group = null, ...others] = new Set(wrong.map(({ bolt }) => groupOf(bolt)));
  if (others.length > 0) return [];
  const size = knownScrew({ screw: screwOfGroup(plate, group) });
  const { mediumMm, coarseMm } = CLEARANCE_HOLES[size];
  const widestMm = ((threadDiameterMm(size) ?? 0) + CAP_SCREWS[size].headDiameterMm) / 2;
  const isWrong = new Set(wrong.map((match) => match.bolt));
  for (const [series, diameterMm] of [
    ['medium', mediumMm],
    ['coarse', coarseMm],
  ] as const) {
    if (diameterMm > widestMm) continue;
    for (const which of ['wrong', 'all'] as const) {
      const opens = (bolt: Bolt, index: number) =>
        bolt.diameterMm < diameterMm && groupOf(index) === group && (which === 'all' || isWrong.has(index));
      const opened = withBolts(drawing, (bolt, index) =>
        opens(bolt, index) ? { ...bolt, diameterMm } : bolt,
      );
      const numbers = drawing.bolts.flatMap((bolt, index) => (opens(bolt, index) ? [index + 1] : []));
      const at = drawing.bolts[(numbers[0] ?? 0) - 1]?.at;
      const goesByMm = group === null ? null : (plate.screwGroups[group]?.holeDiameterMm ?? null);
      const regrouped = which === 'all' && goesByMm !== null ? goingBy(plate, group, diameterMm) : plate;
      const keepsScrews = opened.bolts.every(
        (_, index) => screwGroupOf(regrouped, opened.bolts, index) === groupOf(index),
      );
      if (at === undefined || !keepsScrews || !goesOn(input, opened)) continue;
      const code = numbers.length === 1 ? 'open-hole' : 'open-holes';
      const figures = {
        diameterMm,
        series,
        holeNumbers: numbers,
        screwSize: size,
        ...(regrouped !== plate && goesByMm !== null && { groupWasMm: goesByMm }),
      };
      return [{ code, amount: diameterMm, unit: 'mm', figures, at }];
    }
  }
  return [];
}

function goingBy(plate: PlateFacts, group: number | null, holeDiameterMm: number): PlateFacts {
  const screwGroups = plate.screwGroups.map((one, index) =>
    index === group ? { ...one, holeDiameterMm } : one,
  );
  return { ...plate, screwGroups };
}

/** A hole that has no tapped hole left to go to is one too many. */
function leaveOut(input: BoltPatternInput, wrong: readonly HoleMatch[]): readonly Cure[] {
  const { drawing } = input;
  const extra = wrong.filter((match) => match.hole === null).map((match) => match.bolt);
  const first = drawing.bolts[extra[0] ?? -1];
  if (first === undefined || drawing.bolts.length - extra.length < 2) return [];
  const without = { ...drawing, bolts: drawing.bolts.filter((_, index) => !extra.includes(index)) };
  if (!goesOn(input, without)) return [];
  const figures = { holeNumbers: extra.map((bolt) => bolt + 1) };
  return [{ code: 'leave-out-holes', amount: extra.length, unit: '', figures, at: first.at }];
}

/**
 * Free tapped holes that would hold the plate: the fewest that make enough, with the middle of pressure between the
 * screws. All for one of the screws that the plate has, that of most holes first.
 */
export function moreScrews(input: BoltPatternInput, missing: number): readonly Cure[] {
  const { plate } = input;
  const sizes = [plate.screw, ...plate.screwGroups.map(({ screw }) => screw)].map((screw) =>
    knownScrew({ screw }),
  );
  for (const size of new Set(sizes)) {
    const cure = moreOfSize(input, size, missing);
    if (cure !== null) return [cure];
  }
  return [];
}

function moreOfSize(input: BoltPatternInput, size: ScrewSize, missing: number): Cure | null {
  const { drawing, plate, bolster, registration } = input;
  const placement = registration.placement ?? AS_DRAWN;
  const { headDiameterMm, counterbore } = CAP_SCREWS[size];
  const rimMm = counterbore.diameterMm / 2 + RIM_MM;
  const free = freeHolesUnder(drawing, bolster, registration, placement, size, rimMm).map(({ at }) => at);
  const has = placedScrews(plate, drawing.bolts);
  const push = drawing.projected.centroid;
  const outside = (added: readonly Point[]) =>
    outsideScrewsMm([...has, ...added.map((at) => ({ at, headDiameterMm }))], push);
  const byReach = [...free].sort((one, other) => apart(other, push) - apart(one, push));
  const added = enough(byReach, missing, outside);
  const [first] = added;
  if (first === undefined) return null;
  return {
    code: 'add-holes',
    amount: added.length,
    unit: '',
    figures: {
      diameterMm: CLEARANCE_HOLES[size].mediumMm,
      screwSize: size,
      toXMm: added.map(({ x }) => x),
      toYMm: added.map(({ y }) => y),
    },
    at: first,
  };
}

/** One hole, two, or three, such that the middle of pressure lies between the screws. */
function enough(
  free: readonly Point[],
  missing: number,
  outside: (added: readonly Point[]) => number,
): readonly Point[] {
  const few = free.slice(0, 24);
  const ones = few.map((point) => [point]);
  const twos = few.flatMap((one, index) => few.slice(index + 1).map((other) => [one, other]));
  const threes = few
    .slice(0, 10)
    .flatMap((one, i, list) =>
      list.slice(i + 1).flatMap((two, j) => list.slice(i + j + 2).map((three) => [one, two, three])),
    );
  return [...ones, ...twos, ...threes].find((added) => added.length >= missing && outside(added) === 0) ?? [];
}

/** Sizes the bolster has tapped holes for. The drawing wants other holes for them, so none can be tried at once. */
export function otherScrews({ bolster }: BoltPatternInput): readonly Cure[] {
  const sizes = [...new Set(bolster.holes.map(({ thread }) => thread))];
  return sizes.flatMap((thread) => {
    const nominalMm = threadDiameterMm(thread);
    if (nominalMm === null) return [];
    return [{ code: 'other-screw', amount: nominalMm, unit: 'mm', figures: { screwSize: thread } }];
  });
}

/** Holes keep their screws where they are moved or drilled wider. */
function goesOn(
  { bolster, plate, rules, drawing: before }: BoltPatternInput,
  drawing: MeasuredDrawing,
): boolean {
  const screwsMm = screwDiametersMm(plate, before.bolts);
  return registerPlate(drawing, bolster, screwsMm, rules, plate.facingThicknessMm).holesFit;
}

function withBolts(drawing: MeasuredDrawing, change: (bolt: Bolt, index: number) => Bolt): MeasuredDrawing {
  return { ...drawing, bolts: drawing.bolts.map(change) };
}

function apart(one: Point, other: Point): number {
  return Math.hypot(one.x - other.x, one.y - other.y);
}
