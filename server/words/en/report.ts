import type { MeasuredDrawing } from '../../engineering/drawing/measured-drawing.js';
import { CHECKS, type Cure, type Finding } from '../../engineering/finding.js';
import type { Registration } from '../../engineering/fit/registration-result.js';
import type { Point } from '../../engineering/geometry/point.js';
import type { PlateCheck } from '../../engineering/plate-check.js';
import { wordNotice } from './drawing-notices.js';
import { wordFinding } from './findings.js';
import { notJudgedBy } from './not-judged.js';
import { wordWorking } from './working.js';

/** Steps of a report's figures per unit: a tenth of a micrometre is finer than anything measured here. */
const STEPS = 10_000;

/**
 * A plate check in words: the report that the service answers, stores and shows. Lengths in mm and forces in kN,
 * rounded to four decimals; places are the drawing's.
 */
export function wordReport(
  check: PlateCheck,
  about: {
    readonly drawing: MeasuredDrawing;
    readonly polymer: string;
    readonly bolster: { readonly id: string; readonly version: number };
  },
) {
  return rounded({
    verdict: check.verdict,
    polymer: about.polymer,
    drawing: describeDrawing(about.drawing),
    registration: describeRegistration(check.registration),
    bolster: about.bolster,
    engineVersion: check.engineVersion,
    dataVersion: check.dataVersion,
    findings: check.findings.map(describeFinding),
    notJudged: [...notJudgedBy(CHECKS)],
  });
}

/** What a drawing was found to hold, notices in words. */
export function wordDrawing(drawing: MeasuredDrawing) {
  return rounded(describeDrawing(drawing));
}

function describeDrawing(drawing: MeasuredDrawing) {
  const { plate, feed, features, projected, moulded } = drawing;
  return {
    widthMm: plate.widthMm,
    heightMm: plate.heightMm,
    units: unitName(drawing.units.mmPerUnit),
    unitsAssumed: drawing.units.assumed,
    notices: drawing.notices.map((notice) => ({ ...notice, message: wordNotice(notice) })),
    bolts: drawing.bolts.map(({ at, diameterMm }) => ({ ...place(at), diameterMm })),
    feed: { ...place(feed.at), diameterMm: feed.diameterMm, depthMm: feed.depthMm },
    areaMm2: {
      projected: projected.areaMm2,
      cavity: features.CAVITY?.areaMm2 ?? 0,
      runner: features.RUNNER?.areaMm2 ?? 0,
      gate: features.GATE?.areaMm2 ?? 0,
      vent: drawing.ventInsidePlate?.areaMm2 ?? 0,
    },
    volumeMm3: {
      moulded: moulded.volumeMm3,
      cavity: features.CAVITY?.volumeMm3 ?? 0,
      runner: features.RUNNER?.volumeMm3 ?? 0,
      gate: features.GATE?.volumeMm3 ?? 0,
    },
    centroidFromFeedMm: { x: projected.centroid.x - feed.at.x, y: projected.centroid.y - feed.at.y },
    cavities: drawing.cavities.map(({ areaMm2, volumeMm3, maxDepthMm, widthMm, heightMm, centroid }) => ({
      areaMm2,
      volumeMm3,
      maxDepthMm,
      widthMm,
      heightMm,
      centroid: place(centroid),
    })),
  };
}

function describeRegistration(registration: Registration) {
  const { fits, holesFit, feedFits, outlineFits, rotationDeg, mirroredFits, floatMm } = registration;
  const { worstErrorMm, worstErrorAfterFloatMm, allowanceMm } = registration;
  return {
    fits,
    holesFit,
    feedFits,
    outlineFits,
    rotationDeg,
    mirroredFits,
    floatMm: floatMm && { x: floatMm.x, y: floatMm.y },
    worstErrorMm,
    worstErrorAfterFloatMm,
    allowanceMm,
  };
}

function describeFinding(finding: Finding) {
  const { name, group, line, summary, advice, marginText, cures } = wordFinding(finding);
  const { check, verdict, situation, figure, limit, allowed, unit, margin, source, basis, figures } = finding;
  return {
    ...{ check, name, group, verdict, situation, figure, limit, allowed, unit, margin, marginText },
    ...{ line, summary, advice, source, basis },
    figures: copyOf(figures),
    working: wordWorking(finding),
    places: finding.places.map(place),
    cures: finding.cures.map((cure, index) => ({
      ...{ code: cure.code, amount: cure.amount, unit: cure.unit },
      amountText: cures[index]?.amountText ?? '',
      what: cures[index]?.what ?? '',
      also: cures[index]?.also ?? null,
      at: cure.at ? place(cure.at) : null,
      change: cure.change ? { ...cure.change } : null,
      figures: copyOf(cure.figures),
    })),
  };
}

function copyOf(figures: Cure['figures']): { [name: string]: number | string | number[] } {
  return Object.fromEntries(
    Object.entries(figures).map(([name, value]) => [name, typeof value === 'object' ? [...value] : value]),
  );
}

function place({ x, y }: Point) {
  return { xMm: x, yMm: y };
}

function unitName(mmPerUnit: number): 'mm' | 'cm' | 'm' | 'inch' {
  if (mmPerUnit === 10) return 'cm';
  if (mmPerUnit === 1000) return 'm';
  return mmPerUnit === 25.4 ? 'inch' : 'mm';
}

function rounded<Value>(value: Value): Value {
  if (typeof value === 'number') return (Math.round(value * STEPS) / STEPS || 0) as Value;
  if (Array.isArray(value)) return value.map(rounded) as Value;
  if (value === null || typeof value !== 'object') return value;
  const copy: { [name: string]: unknown } = {};
  for (const name in value) copy[name] = rounded(value[name]);
  return copy as Value;
}
