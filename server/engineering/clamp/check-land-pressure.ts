import type { Cure, Finding, Step } from '../finding.js';
import { ALLOYS } from '../press-facts.js';
import { pressurePerNewton } from './bearing.js';
import { bearingLimitOf } from './bearing-limit.js';
import type { ClampCase } from './clamp-case.js';
import { CLAMP_AXIS, isLand } from './closing.js';
import { areaCures } from './fewer-cavities.js';
import { backingAreaMm2 } from './land.js';

/** The clamp forces that close the plate without pressing its land too hard, kN. */
export interface ClampWindow {
  readonly neededKn: number;
  /** What the land carries, evenly pressed. */
  readonly carriedKn: number;
  /** What it carries if the platens tilt and its near side takes more. */
  readonly carriedTiltingKn: number;
}

/**
 * Pressure on the land: mean bearing pressure at the set force against the softer of plate, facing plate and
 * bolster face. Gives the highest setting; the window is [needed, highest], cut to what the press can set.
 * An empty window is a caution, since half the proof stress is practice. It stops a plate only where the force that
 * must be set (in the middle of the pressure band, or the press's lowest) passes the published proof stress itself
 * over the whole land, what the bolster's face is recorded to bear, or what the press can set.
 */
export function checkLandPressure(given: ClampCase): Finding {
  const { bearing, press, land, closure } = given;
  const window = clampWindowOf(given);
  const { verdict, situation } = judge(given, window);
  const isGuidedOnly = situation === 'narrow-when-tilting';
  const isOpen = situation === 'window' || isGuidedOnly;
  const highestKn = highestOf(situation, window, press.clamp.maxKn);
  const windowMinKn = isGuidedOnly ? closure.guidedFromKn : window.neededKn;
  const windowMaxKn = Math.min(isGuidedOnly ? window.carriedKn : highestKn, press.clamp.maxKn);
  return {
    check: 'land-pressure',
    verdict,
    situation,
    figure: highestKn,
    limit: window.neededKn,
    allowed: 'at-least',
    unit: 'kN',
    margin: highestKn - window.neededKn,
    figures: {
      landMm2: Math.max(0, land.moments.areaMm2),
      allowableMpa: bearing.allowableMpa,
      proofMpa: bearing.proofMpa,
      softest: bearing.softest,
      neededKn: window.neededKn,
      settableMaxKn: press.clamp.maxKn,
      ...(isOpen && { windowMinKn, windowMaxKn }),
      ...(Number.isFinite(window.carriedTiltingKn) && { carriedTiltingKn: window.carriedTiltingKn }),
      placed: land.placed,
    },
    places: [],
    cures: curesFor(situation, given, window, { windowMinKn, windowMaxKn }),
    working: workingOf(given, window),
    source: bearing.source,
    basis: bearing.basis,
  };
}

/** The highest setting that the situation is about, kN. */
function highestOf(situation: string, { carriedKn, carriedTiltingKn }: ClampWindow, maxKn: number): number {
  switch (situation) {
    case 'window':
      return Math.min(carriedKn, carriedTiltingKn);
    case 'narrow-when-tilting':
    case 'empty-unguided':
      return carriedTiltingKn;
    case 'beyond-press':
      return Math.min(carriedKn, maxKn);
    default:
      return carriedKn;
  }
}

/** The window of a plate, before the press's largest setting cuts it. */
function clampWindowOf({ drawing, bolster, land, closure, bearing, press }: ClampCase): ClampWindow {
  const backKn = (backingAreaMm2(drawing, bolster, land) * bolster.allowableFacePressureMpa) / 1000;
  const carriedKn = Math.min((land.moments.areaMm2 * bearing.allowableMpa) / 1000, backKn);
  const closesTilting = closure.tiltingFromKn <= press.clamp.maxKn;
  return {
    neededKn: closure.neededKn,
    carriedKn: Math.max(0, carriedKn),
    carriedTiltingKn: closesTilting ? bearing.allowableMpa / peakPerKn(land) : Number.POSITIVE_INFINITY,
  };
}

function peakPerKn({ moments, hull }: ClampCase['land']): number {
  return 1000 * Math.max(...hull.map((point) => pressurePerNewton(moments, CLAMP_AXIS, point)));
}

function judge(given: ClampCase, window: ClampWindow): Pick<Finding, 'verdict' | 'situation'> {
  const { land, closure, bearing, press } = given;
  if (!isLand(land.moments)) return { verdict: 'stop', situation: 'no-land' };
  if (window.carriedKn < closure.neededMidKn) {
    const crushesFromKn = (land.moments.areaMm2 * bearing.proofMpa) / 1000;
    if (bearing.softest === 'bolster-face') return { verdict: 'stop', situation: 'face-over' };
    if (bearing.proofBasis === 'sourced' && crushesFromKn < closure.neededMidKn) {
      return { verdict: 'stop', situation: 'crushed' };
    }
  }
  if (closure.neededKn > press.clamp.maxKn) {
    const isMiddleOver = closure.neededMidKn > press.clamp.maxKn;
    return { verdict: isMiddleOver ? 'stop' : 'caution', situation: 'beyond-press' };
  }
  if (window.carriedKn < window.neededKn) return { verdict: 'caution', situation: 'window-empty' };
  if (window.carriedTiltingKn < window.neededKn) {
    const situation = press.clamp.platensGuided ? 'narrow-when-tilting' : 'empty-unguided';
    return { verdict: 'caution', situation };
  }
  return { verdict: 'clear', situation: 'window' };
}

function curesFor(
  situation: string,
  { land, plate, bolster, bearing, drawing, force, press }: ClampCase,
  { neededKn }: ClampWindow,
  between: { readonly windowMinKn: number; readonly windowMaxKn: number },
): Cure[] {
  if (situation === 'window') return [];
  if (situation === 'narrow-when-tilting') {
    return [{ code: 'clamp-between', amount: between.windowMaxKn, unit: 'kN', figures: between }];
  }
  if (situation === 'beyond-press') {
    return areaCures(drawing, force, press.clamp).filter(({ code }) => code === 'less-area');
  }
  if (situation === 'empty-unguided') {
    return harderAlloy(plate, bolster, (allowableMpa) => allowableMpa / peakPerKn(land) >= neededKn);
  }
  const neededMm2 = (neededKn * 1000) / bearing.allowableMpa;
  const moreLand: Cure = {
    code: 'more-land',
    amount: (neededMm2 - Math.max(0, land.moments.areaMm2)) / 100,
    unit: 'cm2',
    figures: { neededMm2 },
  };
  if (!isLand(land.moments) || bearing.softest === 'bolster-face') return [moreLand];
  const carries = (allowableMpa: number) => land.moments.areaMm2 * allowableMpa >= neededKn * 1000;
  return [moreLand, ...harderAlloy(plate, bolster, carries)];
}

/** The softest alloy whose land bears it; none where the bolster's face is softer still. */
function harderAlloy(
  plate: ClampCase['plate'],
  bolster: ClampCase['bolster'],
  bears: (allowableMpa: number) => boolean,
): Cure[] {
  const [harder] = ALLOYS.map((alloy) => ({ alloy, ...bearingLimitOf({ ...plate, alloy }, bolster) }))
    .filter(({ allowableMpa }) => bears(allowableMpa))
    .sort((a, b) => a.allowableMpa - b.allowableMpa);
  if (harder === undefined) return [];
  const { alloy, allowableMpa } = harder;
  return [{ code: 'harder-alloy', amount: allowableMpa, unit: 'MPa', figures: { alloy }, change: { alloy } }];
}

function workingOf(
  given: ClampCase,
  { neededKn, carriedKn, carriedTiltingKn }: ClampWindow,
): readonly Step[] {
  const { land, bearing, closure, force, press, drawing, bolster } = given;
  const { source, basis, softest, proofMpa, allowableMpa } = bearing;
  const landMm2 = Math.max(0, land.moments.areaMm2);
  const backMm2 = backingAreaMm2(drawing, bolster, land);
  const isBackLeast = carriedKn < (landMm2 * allowableMpa) / 1000 - 1e-9;
  const drawn = { source: 'outline less every cut, sink and hole', basis: 'computed' } as const;
  const tilts = closure.tiltingFromKn <= press.clamp.maxKn;
  const ratio = tilts ? Math.max(1, closure.closing.ratio) : 1;
  return [
    { says: 'land', figures: { landMm2 }, ...drawn },
    {
      says: softest === 'bolster-face' ? 'face-bears' : 'allowable',
      figures: { proofMpa, share: allowableMpa / proofMpa, allowableMpa },
      source,
      basis,
    },
    isBackLeast
      ? {
          says: 'back-carries',
          figures: { backMm2, faceMpa: bolster.allowableFacePressureMpa, carriedKn },
          source: 'allowable pressure on the bolster’s face, as recorded for it',
          basis: 'machine',
        }
      : {
          says: 'carried',
          figures: { landMm2, allowableMpa, carriedKn },
          source: 'N = p A',
          basis: 'computed',
        },
    ...(Number.isFinite(carriedTiltingKn)
      ? [
          {
            says: 'carried-tilting',
            figures: { allowableMpa, peakMpaPerKn: allowableMpa / carriedTiltingKn, carriedTiltingKn },
            source:
              'section under eccentric load, P/A and M/Z (expertsmind.com, eccentrically loaded sections)',
            basis: 'sourced',
          } as const,
        ]
      : []),
    {
      says: neededKn > ratio * force.requiredMaxKn + 1e-9 ? 'needed-lowest' : 'needed',
      figures: { requiredKn: force.requiredMaxKn, ratio, neededKn },
      source:
        'required force as in the finding on clamp force; ratio: platens free to tilt just close at the rim',
      basis: 'computed',
    },
  ];
}
