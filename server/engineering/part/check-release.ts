import type { Cavity, MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure, Finding } from '../finding.js';
import { interiorPointOf } from '../geometry/polygons.js';
import type { FeedSystem } from '../melt/feed-system.js';
import type { Polymer } from '../polymers/polymer.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { coreForceN, pullOf } from './core-grip.js';
import { type Draft, draftOf } from './draft.js';

/** What a person pulls off a plate with both hands, N. Common practice, no source. */
const HANDS_N = 150;
/** Walls up to here come out without draft. Common practice, no source. */
const SHALLOW_MM = 3;
/** Half angle under which a sprue sticks in its bush, deg: 1 to 1.5 are usual. Handbook value, from memory. */
const SPRUE_HALF_ANGLE_DEG = 1;
/** A sprue shorter than this gives fingers no hold, mm. Common practice, no source. */
const GRIP_MM = 8;
/** Nobody mills a core steeper for a cure, deg. */
const STEEPEST_CURE_DEG = 10;

export interface ReleaseInput {
  readonly drawing: MeasuredDrawing;
  readonly plate: PlateFacts;
  readonly bolster: Pick<BolsterFacts, 'sprue'>;
  readonly polymer: Polymer;
  readonly feed: Pick<FeedSystem, 'inlets'>;
}

/** A cavity that must let go: what holds it, and what its gates lift before they tear while hot, N. */
interface Hold {
  readonly cavity: Cavity;
  /** Across the cores, before friction. */
  readonly normalN: number;
  readonly stripN: number;
  readonly gatesMm2: number;
  readonly gatesLiftN: number;
}

/**
 * Release: draft against depth, what the part shrinks onto against what can lift it, the sprue's own taper, and
 * something to hold. A contour map has no undercut. Whatever the part shrinks onto is in the plate, so the plate keeps
 * it and the sprue must come with it. Gates that tear first are told and no fault: then the part itself is lifted, not
 * its runner. Material figures are remembered: never worse than a caution. Taken at the coldest set of temperatures,
 * where a part grips hardest.
 */
export function checkRelease(input: ReleaseInput): Finding {
  const { drawing, plate, bolster, polymer } = input;
  const draft = draftOf(plate);
  const hold = worstHold(input, draft);
  const deepest = drawing.cavities.reduce((a, b) => (b.maxDepthMm > a.maxDepthMm ? b : a));
  const neededDeg = deepest.maxDepthMm > SHALLOW_MM ? polymer.draftMinDeg.value : 0;
  const halfAngleDeg = sprueHalfAngleDeg(bolster.sprue);
  const shared = {
    polymer: polymer.symbol,
    draftDeg: draft.deg,
    draftFrom: draft.from,
    neededDeg,
    depthMm: deepest.maxDepthMm,
    stripN: hold.stripN,
    handsN: HANDS_N,
    gatesMm2: hold.gatesMm2,
    gatesLiftN: hold.gatesLiftN,
    sprueHalfAngleDeg: halfAngleDeg,
    neededSprueDeg: SPRUE_HALF_ANGLE_DEG,
    sprueLengthMm: bolster.sprue.lengthMm,
    coldSlugMm: Math.max(0, drawing.feed.depthMm - (drawing.features.RUNNER?.maxDepthMm ?? 0)),
  };
  const base = { check: 'release', figures: shared } as const;
  if (hold.stripN > HANDS_N) {
    return {
      ...base,
      ...judged('caution', 'grips-core', hold.stripN, HANDS_N, 'at-most', 'N'),
      places: [interiorPointOf(hold.cavity.region)],
      cures: gripCures(hold, polymer),
      ...REMEMBERED,
    };
  }
  if (draft.deg < neededDeg) {
    return {
      ...base,
      ...judged('caution', 'little-draft', draft.deg, neededDeg, 'at-least', 'deg'),
      places: [interiorPointOf(deepest.region)],
      cures: [{ code: 'tapered-cutter', amount: neededDeg, unit: 'deg', figures: {} }],
      source: polymer.draftMinDeg.source,
      basis: polymer.draftMinDeg.basis,
    };
  }
  if (halfAngleDeg < SPRUE_HALF_ANGLE_DEG) {
    return {
      ...base,
      ...judged('caution', 'sprue-clings', halfAngleDeg, SPRUE_HALF_ANGLE_DEG, 'at-least', 'deg'),
      places: [drawing.feed.at],
      cures: [],
      ...REMEMBERED,
    };
  }
  if (bolster.sprue.lengthMm < GRIP_MM) {
    return {
      ...base,
      ...judged('caution', 'little-to-hold', bolster.sprue.lengthMm, GRIP_MM, 'at-least', 'mm'),
      places: [drawing.feed.at],
      cures: [],
      source: 'common practice, no source',
      basis: 'practice',
    };
  }
  return {
    ...base,
    ...judged('clear', 'lets-go', draft.deg, neededDeg, 'at-least', 'deg'),
    places: [],
    cures: [],
    source: polymer.draftMinDeg.source,
    basis: polymer.draftMinDeg.basis,
  };
}

const REMEMBERED = { source: 'handbook value, from memory', basis: 'memory' } as const;

function judged(
  verdict: Finding['verdict'],
  situation: string,
  figure: number,
  limit: number,
  allowed: 'at-least' | 'at-most',
  unit: string,
) {
  const margin = allowed === 'at-least' ? figure - limit : limit - figure;
  return { verdict, situation, figure, limit, allowed, unit, margin };
}

/** The cavity that holds on hardest. */
function worstHold({ drawing, polymer, feed }: ReleaseInput, draft: Draft): Hold {
  const [coldest] = polymer.temperatures.sets;
  const { heldMpa } = pullOf(polymer, coldest);
  const slide = slideOf(polymer, draft.deg);
  const hotMpa = polymer.strengthMpa.usual * polymer.hotShare.usual;
  const holds = drawing.cavities.map((cavity, index): Hold => {
    const normalN = coreForceN(cavity, heldMpa);
    const inlets = feed.inlets[index] ?? [];
    const gatesMm2 = inlets.reduce((sum, { depthMm, widthMm }) => sum + depthMm * widthMm, 0);
    return { cavity, normalN, stripN: normalN * slide, gatesMm2, gatesLiftN: gatesMm2 * hotMpa };
  });
  return holds.reduce((a, b) => (b.stripN > a.stripN ? b : a));
}

/** Friction less the wall's slope: at tan(draft) = friction a part comes off by itself (Shen, Chen and Jiang 1999). */
function slideOf({ frictionOnMetal }: Polymer, draftDeg: number): number {
  return Math.max(0, frictionOnMetal.usual - Math.tan((draftDeg * Math.PI) / 180));
}

function gripCures({ normalN, stripN }: Hold, polymer: Polymer): readonly Cure[] {
  const slope = polymer.frictionOnMetal.usual - HANDS_N / normalN;
  const draftDeg = Math.ceil(((Math.atan(slope) * 180) / Math.PI) * 2) / 2;
  const lower: Cure = { code: 'lower-core', amount: (100 * HANDS_N) / stripN, unit: 'percent', figures: {} };
  if (draftDeg > STEEPEST_CURE_DEG) return [lower];
  return [{ code: 'more-draft', amount: draftDeg, unit: 'deg', figures: {} }, lower];
}

/** Half the cone's angle, deg. */
function sprueHalfAngleDeg({
  lengthMm,
  nozzleEndDiameterMm,
  partingFaceDiameterMm,
}: BolsterFacts['sprue']): number {
  const risesMm = (partingFaceDiameterMm - nozzleEndDiameterMm) / 2;
  return (Math.atan2(risesMm, lengthMm) * 180) / Math.PI;
}
