import type { Cure, Finding } from '../finding.js';
import { type BoltPatternInput, boltPatternCures, moreScrews, otherScrews } from './bolt-pattern-cures.js';
import { MIRROR } from './check-face.js';
import { threadDiameterMm } from './fasteners/iso-261-threads.js';
import { outsideScrewsMm, placedScrews } from './holding-force.js';
import { inDrawing } from './placing.js';
import type { HoleMatch, Registration } from './registration-result.js';
import { screwOfBolt } from './screw-of-bolt.js';

/** A plate on one screw turns about it. */
const LEAST_SCREWS = 2;

const SOURCE = 'fixed-fastener rule, ASME Y14.5 appendix B';

/**
 * Does every bolt hole meet a tapped hole? The figure is the error of the deciding hole, mm: after the float when
 * the pattern fits, and where most holes land when it does not, so that the wrong hole stands out. Judged without the
 * feed. A middle of pressure outside what the screws' heads hold is a caution: nothing pulls the plate home there. Nothing is on
 * record of dowel holes in a bolster: a plate that fits and has dowels is clear, with the advice to try it by hand.
 */
export function checkBoltPattern(input: BoltPatternInput): Finding {
  const { drawing, registration } = input;
  if (drawing.bolts.length < LEAST_SCREWS) return tooFew(input);
  if (registration.placement === null) return noThread(input);
  return registration.holesFit ? fitting(input) : missing(input);
}

const NO_FIGURE = { figure: null, limit: null, allowed: null, unit: 'mm', margin: null } as const;

const COMMON = { check: 'bolt-pattern', source: SOURCE, basis: 'computed' } as const;

function tooFew(input: BoltPatternInput): Finding {
  const { drawing } = input;
  const none = drawing.bolts.length === 0;
  return {
    ...COMMON,
    verdict: 'stop',
    situation: none ? 'no-bolts' : 'one-bolt',
    figure: drawing.bolts.length,
    limit: LEAST_SCREWS,
    allowed: 'at-least',
    unit: '',
    margin: drawing.bolts.length - LEAST_SCREWS,
    figures: { screws: drawing.bolts.length, screwSize: input.plate.screw.size },
    places: drawing.bolts.map(({ at }) => at),
    cures: moreScrews(input, LEAST_SCREWS - drawing.bolts.length),
    source: 'a plate on one screw turns about it',
  };
}

function noThread(input: BoltPatternInput): Finding {
  return {
    ...COMMON,
    verdict: 'stop',
    ...NO_FIGURE,
    situation: 'no-thread',
    figures: { screwSize: input.plate.screw.size, screws: input.drawing.bolts.length },
    places: [],
    cures: otherScrews(input),
  };
}

function fitting(input: BoltPatternInput): Finding {
  const { drawing, plate, registration } = input;
  const worst = decidingHole(registration);
  const screws = placedScrews(plate, drawing.bolts);
  const outsideMm = outsideScrewsMm(screws, drawing.projected.centroid);
  const dowels = drawing.dowels.length;
  const figures = {
    screws: screws.length,
    holeNumber: worst.bolt + 1,
    errorMm: worst.errorMm,
    outsideMm,
    dowels,
  };
  if (outsideMm > 0) {
    return {
      ...COMMON,
      verdict: 'caution',
      situation: 'load-outside-screws',
      figure: outsideMm,
      limit: 0,
      allowed: 'at-most',
      unit: 'mm',
      margin: -outsideMm,
      figures,
      places: [drawing.projected.centroid],
      cures: moreScrews(input, 1),
      source: 'common practice, no source',
      basis: 'practice',
    };
  }
  return {
    ...COMMON,
    verdict: 'clear',
    situation: !registration.feedFits ? 'fits-without-feed' : dowels > 0 ? 'fits-with-dowels' : 'fits',
    figure: worst.errorMm,
    limit: worst.allowanceMm,
    allowed: 'at-most',
    unit: 'mm',
    margin: worst.allowanceMm - worst.errorMm,
    figures,
    places: drawing.dowels.map(({ at }) => at),
    cures: [],
  };
}

function missing(input: BoltPatternInput): Finding {
  const { drawing, plate, registration } = input;
  const wrong = registration.matches.filter((match) => !match.matched);
  const worst = decidingHole(registration);
  const { size } = screwOfBolt(plate, drawing.bolts, worst.bolt);
  const isSmall = wrong.every((match) => match.hole !== null && match.errorMm <= SMALL_ERROR_MM);
  const holeMm = drawing.bolts[worst.bolt]?.diameterMm ?? 0;
  const cures: readonly Cure[] = boltPatternCures(input, wrong);
  const off = inDrawing(worst.error, registration.placement?.rotationDeg ?? 0);
  const situation = registration.mirroredFits
    ? 'seen-from-back'
    : isSmall
      ? 'holes-small'
      : wrong.length === 1
        ? 'hole-off'
        : 'holes-off';
  return {
    ...COMMON,
    verdict: 'stop',
    situation,
    ...(situation === 'holes-small' ? tooSmall(worst, holeMm) : tooFarOff(worst)),
    unit: 'mm',
    figures: {
      screws: drawing.bolts.length,
      screwSize: size,
      screwDiameterMm: threadDiameterMm(size) ?? 0,
      holeNumber: worst.bolt + 1,
      holeNumbers: wrong.map((match) => match.bolt + 1),
      wrong: wrong.length,
      errorMm: worst.errorMm,
      offXMm: off.x,
      offYMm: off.y,
      holeDiameterMm: holeMm,
      partner: worst.hole === null ? 'none' : 'found',
    },
    places: [...wrong].sort(byExcess).flatMap((match) => drawing.bolts[match.bolt]?.at ?? []),
    cures: registration.mirroredFits ? [MIRROR] : cures,
  };
}

type Measure = Pick<Finding, 'figure' | 'limit' | 'allowed' | 'margin'>;

function tooFarOff({ errorMm, allowanceMm }: HoleMatch): Measure {
  const limit = Math.max(0, allowanceMm);
  return { figure: errorMm, limit, allowed: 'at-most', margin: limit - errorMm };
}

/** The hole that would take its screw where it stands: d + 2 x (tolerances + error), by allowance = (D - d)/2 - tolerances. */
function tooSmall({ errorMm, allowanceMm }: HoleMatch, holeMm: number): Measure {
  const margin = 2 * (allowanceMm - errorMm);
  return { figure: holeMm, limit: holeMm - margin, allowed: 'at-least', margin };
}

/** Below this a hole stands where it should, and misses only because it is too tight for its screw, mm. */
const SMALL_ERROR_MM = 0.02;

/** The hole that decides: one without a partner, else the one with the largest excess over its allowance. */
function decidingHole({ matches }: Registration): HoleMatch {
  const [worst] = [...matches].sort(byExcess);
  if (worst === undefined) throw new RangeError('a registration without bolt holes');
  return worst;
}

function byExcess(one: HoleMatch, other: HoleMatch): number {
  const excess = (match: HoleMatch) =>
    match.hole === null ? Number.MAX_VALUE : match.errorMm - match.allowanceMm;
  return Math.abs(excess(other) - excess(one)) < 1e-6 ? one.bolt - other.bolt : excess(other) - excess(one);
}
