import type { Basis, Cure, Finding, Verdict } from '../finding.js';
import type { Point } from '../geometry/point.js';
import { narrowerAtFloorMm } from './cutter-form.js';
import type { MilledCut } from './milled-cuts.js';
import { enters, thickestUpTo, WORKSHOP_CUTTERS } from './workshop-cutters.js';

/** Metal that stays in a cavity's corners beyond this changes the part, mm. Common practice, no source. */
const MOST_LEFT_MM = 1;
const THINNEST_MM = (WORKSHOP_CUTTERS[0] as { readonly diameterMm: number }).diameterMm;
const PRACTICE = { source: 'common practice, no source', basis: 'practice' } as const;
const GEOMETRY = { source: 'geometry of the cuts', basis: 'computed' } as const;
const REACH = {
  source: 'cutting lengths of ISO 1641-1: handbook value, from memory; thin ones common practice, no source',
  basis: 'memory',
} as const;

/** One cut judged: what decides about it. */
export interface JudgedCut extends Pick<Finding, 'figure' | 'limit' | 'allowed' | 'margin' | 'situation'> {
  readonly cut: MilledCut;
  readonly verdict: Verdict;
  readonly places: readonly Point[];
  readonly cures: readonly Cure[];
  readonly grounds: { readonly source: string; readonly basis: Basis };
}

/** What decides about a cut: that it cannot be made as given, then what practice would rather not. */
export function judgeCut(cut: MilledCut): JudgedCut {
  return closes(cut) ?? tooNarrow(cut) ?? tooDeep(cut) ?? cornersStay(cut) ?? reaches(cut);
}

/** Both walls lean in until they meet. */
function closes(cut: MilledCut): JudgedCut | null {
  const { floorWidthMm, narrowest, form, depthMm } = cut;
  if (narrowest === null || floorWidthMm === null || floorWidthMm > 0 || form.taperDeg === 0) return null;
  const halfMm = (narrowest.widthMm - THINNEST_MM) / 2;
  const lessDeg = Math.floor(((Math.atan2(halfMm, depthMm) * 180) / Math.PI) * 10) / 10;
  const lean: Cure = {
    code: 'less-taper',
    amount: lessDeg,
    unit: 'deg',
    figures: { feature: cut.feature, nowDeg: form.taperDeg },
    at: narrowest.at,
  };
  return {
    cut,
    verdict: 'stop',
    situation: 'taper-closes',
    figure: narrowest.widthMm,
    limit: narrowerAtFloorMm(depthMm, form.taperDeg),
    allowed: 'at-least',
    margin: floorWidthMm,
    places: [narrowest.at],
    cures: [...(lessDeg > 0 ? [lean] : []), widen(cut, THINNEST_MM)],
    grounds: GEOMETRY,
  };
}

/** No cutter has room: not the given one, or none of the workshop's. */
function tooNarrow(cut: MilledCut): JudgedCut | null {
  const { floorWidthMm, narrowest, cutterMm, cutterIsGiven } = cut;
  if (narrowest === null || floorWidthMm === null) return null;
  const neededMm = cutterMm ?? THINNEST_MM;
  if (cutterMm !== null && enters(cutterMm, floorWidthMm)) return null;
  const thinner = thickestUpTo(floorWidthMm);
  const other: Cure | null = thinner && {
    code: 'thinner-cutter',
    amount: thinner.diameterMm,
    unit: 'mm',
    figures: { feature: cut.feature, reachMm: thinner.reachMm, depthMm: cut.depthMm },
    at: narrowest.at,
  };
  return {
    cut,
    verdict: cutterIsGiven ? 'stop' : 'caution',
    situation: cutterIsGiven ? 'given-too-thick' : 'too-narrow',
    figure: floorWidthMm,
    limit: neededMm,
    allowed: 'at-least',
    margin: floorWidthMm - neededMm,
    places: [narrowest.at],
    cures: [...(other ? [other] : []), widen(cut, neededMm)],
    grounds: cutterIsGiven ? GEOMETRY : PRACTICE,
  };
}

/** The cutter that enters is too short. */
function tooDeep(cut: MilledCut): JudgedCut | null {
  const { depthMm, reachMm, narrowest, cutterIsGiven } = cut;
  if (depthMm <= reachMm) return null;
  const longEnough = WORKSHOP_CUTTERS.find((cutter) => cutter.reachMm >= depthMm);
  const thicker: readonly Cure[] =
    longEnough === undefined
      ? []
      : cutterIsGiven && (cut.floorWidthMm === null || enters(longEnough.diameterMm, cut.floorWidthMm))
        ? [
            {
              code: 'thicker-cutter',
              amount: longEnough.diameterMm,
              unit: 'mm',
              figures: { feature: cut.feature, reachMm: longEnough.reachMm },
            },
          ]
        : narrowest === null
          ? []
          : [widen(cut, longEnough.diameterMm)];
  const shallower: Cure = {
    code: 'shallower-cut',
    amount: reachMm,
    unit: 'mm',
    figures: { feature: cut.feature, nowMm: depthMm },
  };
  return {
    cut,
    verdict: 'caution',
    situation: 'too-deep',
    figure: depthMm,
    limit: reachMm,
    allowed: 'at-most',
    margin: reachMm - depthMm,
    places: narrowest === null ? [] : [narrowest.at],
    cures: [...thicker, shallower],
    grounds: REACH,
  };
}

function cornersStay(cut: MilledCut): JudgedCut | null {
  const [most] = cut.corners;
  if (most === undefined || cut.staysMm <= MOST_LEFT_MM) return null;
  const radiusMm = Math.ceil((cut.cutterMm ?? 0) * 5 - 1e-9) / 10;
  const round: Cure = {
    code: 'round-corners',
    amount: radiusMm,
    unit: 'mm',
    figures: { feature: cut.feature, nowMm: most.radiusMm, corners: cut.corners.length },
    at: most.at,
  };
  return {
    cut,
    verdict: 'caution',
    situation: 'corners-stay',
    figure: cut.staysMm,
    limit: MOST_LEFT_MM,
    allowed: 'at-most',
    margin: MOST_LEFT_MM - cut.staysMm,
    places: cut.corners.map(({ at }) => at),
    cures: [round],
    grounds: PRACTICE,
  };
}

function reaches(cut: MilledCut): JudgedCut {
  return {
    cut,
    verdict: 'clear',
    situation: cut.corners.length > 0 ? 'reaches-but-corners' : 'reaches',
    figure: cut.depthMm,
    limit: cut.reachMm,
    allowed: 'at-most',
    margin: cut.reachMm - cut.depthMm,
    places: [],
    cures: [],
    grounds: REACH,
  };
}

/** How much wider the narrowest place has to be for a cutter, at the face. */
function widen(cut: MilledCut, cutterMm: number): Cure {
  const neededMm = cutterMm + narrowerAtFloorMm(cut.depthMm, cut.form.taperDeg);
  const nowMm = cut.narrowest?.widthMm ?? 0;
  return {
    code: 'widen',
    amount: Math.ceil((neededMm - nowMm) * 10 - 1e-9) / 10,
    unit: 'mm',
    figures: { feature: cut.feature, nowMm, cutterMm },
    ...(cut.narrowest && { at: cut.narrowest.at }),
  };
}
