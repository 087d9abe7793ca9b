import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Finding, Verdict } from '../finding.js';
import type { PlateFacts } from '../press-facts.js';
import { type JudgedCut, judgeCut } from './judge-cut.js';
import { type MilledCut, milledCuts } from './milled-cuts.js';

interface MachinableInput {
  readonly drawing: MeasuredDrawing;
  readonly plate: PlateFacts;
}

/** More places than this are not shown. */
const MOST_PLACES = 12;

/**
 * Can every cut be made with a cutter that a workshop has? A given cutter that has no room where the cut is narrowest,
 * at its floor, and a taper that closes before the floor, are a stop: that plate cannot be cut so. A cut too narrow for
 * the workshop's thinnest cutter, deeper than the cutter reaches that enters, or with corners in which much stays, is a
 * caution: others have other cutters. Lengths in mm.
 */
export function checkMachinable({ drawing, plate }: MachinableInput): Finding {
  const judged = milledCuts(drawing, plate).map(judgeCut);
  const [worst] = judged.sort(worstFirst);
  if (worst === undefined) throw new RangeError('a plate without a cut');
  const { cut, grounds, verdict, situation, figure, limit, allowed, margin, places, cures } = worst;
  return {
    check: 'machinable',
    verdict,
    situation,
    figure,
    limit,
    allowed,
    unit: 'mm',
    margin,
    figures: figuresOf(cut, judged.filter((one) => one.verdict !== 'clear').length),
    places: places.slice(0, MOST_PLACES),
    cures,
    ...grounds,
  };
}

const RANK: { readonly [verdict in Verdict]: number } = { stop: 0, unknown: 1, caution: 2, clear: 3 };

function worstFirst(one: JudgedCut, other: JudgedCut): number {
  return RANK[one.verdict] - RANK[other.verdict] || shareLeft(one) - shareLeft(other);
}

/** What is left to a limit as a part of it, so that shallow cuts do not hide deep ones. */
function shareLeft({ margin, limit }: JudgedCut): number {
  return (margin ?? 0) / (typeof limit === 'number' && limit > 0 ? limit : 1);
}

function figuresOf(cut: MilledCut, failing: number): Finding['figures'] {
  const { feature, depthMm, form, floorWidthMm, narrowest, cutterMm, corners } = cut;
  return {
    feature,
    depthMm,
    form: form.form,
    why: form.why,
    taperDeg: form.taperDeg,
    failing,
    corners: corners.length,
    staysMm: cut.staysMm,
    reachMm: cut.reachMm,
    ...(cutterMm !== null && { cutterMm, depthToDiameter: depthMm / cutterMm }),
    ...(narrowest !== null && floorWidthMm !== null && { widthMm: narrowest.widthMm, floorWidthMm }),
  };
}
