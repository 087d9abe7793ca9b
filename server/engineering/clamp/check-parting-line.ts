import type { Cure, Finding } from '../finding.js';
import type { Point } from '../geometry/point.js';
import type { ClampCase } from './clamp-case.js';
import { CLAMP_AXIS, closingRatio, isLand, leastRimPressureMpa } from './closing.js';
import { areaCures } from './fewer-cavities.js';
import { type Land, toDrawing } from './land.js';
import { openingForceKn } from './opening-force.js';
import { padCure } from './pads.js';

/**
 * A plate that closes between tilting platens only from this share of the press's largest force on leaves no room to
 * add force when it flashes. Common practice, no source.
 */
const LITTLE_ROOM = 0.8;

/** From this many times the evenly loaded force on it is said that the load is off centre; decides a sentence, no verdict. */
const OFF_CENTRE = 1.1;

type Judgement = Pick<Finding, 'verdict' | 'situation' | 'figure' | 'limit' | 'allowed' | 'unit' | 'margin'>;

/**
 * Parting line: does the land press all round cavity and runner while the melt pushes? Real platens lie between two
 * bounds, free to tilt ((N - F)/A + M c/I) and fully guided ((N - F)/A). It stops a plate only when both gape at
 * every settable force, or when the maker's limit for an off-centre load is passed; when one gapes it is a caution.
 * So is a load off centre that wants nearly all of the press between tilting platens, while the maker's limit is not on
 * record. Of a press whose platens are not guided the tilting bound is told as what it will do.
 * The figure is the force, kN, from which both close; where the free bound closes at no force, it is the least
 * pressure on the rim at the largest setting, MPa.
 */
export function checkPartingLine(given: ClampCase): Finding {
  const { land, closure, press, drawing } = given;
  const judged = judge(given);
  const limitKnMm = eccentricLimitKnMm(given);
  return {
    check: 'parting-line',
    ...judged,
    figures: {
      guidedFromKn: closure.guidedFromKn,
      ...(Number.isFinite(closure.tiltingFromKn) && { tiltingFromKn: closure.tiltingFromKn }),
      settableMinKn: press.clamp.minKn,
      settableMaxKn: press.clamp.maxKn,
      landMm2: land.moments.areaMm2,
      forceOffClampAxisMm: offAxisMm(land.pushAt),
      clampAxisOffLandMm: isLand(land.moments) ? offAxisMm(land.moments.centroid) : 0,
      eccentricLoadKnMm: eccentricLoadKnMm(given).top,
      ...(limitKnMm !== null && { eccentricLimitKnMm: limitKnMm }),
      placed: land.placed,
    },
    places: judged.verdict === 'clear' ? [] : [toDrawing(closure.closing.worst, land, drawing.feed.at)],
    cures: curesFor(judged.situation, given),
    ...(judged.situation === 'little-room' ? PRACTICE : COMPUTED),
  };
}

const COMPUTED = {
  source:
    'pressure under an eccentric load, P/A ± M/Z (expertsmind.com, eccentrically loaded sections); the bracket between guided and tilting platens is common practice, no source',
  basis: 'computed',
} as const;

const PRACTICE = { source: 'common practice, no source', basis: 'practice' } as const;

function judge(given: ClampCase): Judgement {
  const { land, closure, press } = given;
  const { maxKn } = press.clamp;
  const limitKnMm = eccentricLimitKnMm(given) ?? Number.POSITIVE_INFINITY;
  const load = eccentricLoadKnMm(given);
  if (!isLand(land.moments)) return noLand(land);
  if (load.middle > limitKnMm) return overLimit('stop', 'over-eccentric-limit', load.top, limitKnMm);
  if (closure.guidedMidFromKn > maxKn) return closesFrom('stop', 'opens', closure.guidedFromKn, maxKn);
  if (closure.guidedFromKn > maxKn) {
    return closesFrom('caution', 'opens-at-top-of-band', closure.guidedFromKn, maxKn);
  }
  if (load.top > limitKnMm) {
    return overLimit('caution', 'top-of-band-over-eccentric-limit', load.top, limitKnMm);
  }
  if (closure.tiltingFromKn <= maxKn) {
    const isOnRecord = limitKnMm < Number.POSITIVE_INFINITY;
    const isOffCentre = closure.tiltingFromKn > OFF_CENTRE * closure.guidedFromKn;
    if (isOnRecord || !isOffCentre) return closesFrom('clear', 'closes', closure.tiltingFromKn, maxKn);
    return closure.tiltingFromKn > LITTLE_ROOM * maxKn
      ? closesFrom('caution', 'little-room', closure.tiltingFromKn, maxKn)
      : closesFrom('clear', 'closes-off-centre', closure.tiltingFromKn, maxKn);
  }
  if (Number.isFinite(closure.tiltingFromKn)) {
    return closesFrom('caution', opensTilting(given), closure.tiltingFromKn, maxKn);
  }
  return rimLifts(given);
}

function closesFrom(
  verdict: Finding['verdict'],
  situation: string,
  figure: number,
  maxKn: number,
): Judgement {
  return { verdict, situation, figure, limit: maxKn, allowed: 'at-most', unit: 'kN', margin: maxKn - figure };
}

function overLimit(verdict: Finding['verdict'], situation: string, figure: number, limit: number): Judgement {
  return { verdict, situation, figure, limit, allowed: 'at-most', unit: 'kN mm', margin: limit - figure };
}

function noLand({ moments }: Land): Judgement {
  const figure = Math.max(0, moments.areaMm2);
  return {
    verdict: 'stop',
    situation: 'no-land',
    figure,
    limit: null,
    allowed: null,
    unit: 'mm2',
    margin: null,
  };
}

/** Platens that are not guided are taken to do what platens free to tilt do. */
function opensTilting({ press }: ClampCase): 'opens-if-tilting' | 'opens-unguided' {
  return press.clamp.platensGuided ? 'opens-if-tilting' : 'opens-unguided';
}

function rimLifts(given: ClampCase): Judgement {
  const { land, force, press } = given;
  const { maxKn } = press.clamp;
  const figure = leastRimPressureMpa(land.moments, land.rim, land.pushAt, maxKn, force.requiredMaxKn);
  return {
    verdict: 'caution',
    situation: opensTilting(given),
    figure,
    limit: 0,
    allowed: 'at-least',
    unit: 'MPa',
    margin: figure,
  };
}

/** Moment of the opening force (without the safety factor) about the clamp axis, kN mm. */
function eccentricLoadKnMm({ land, force }: ClampCase): { readonly middle: number; readonly top: number } {
  const armMm = offAxisMm(land.pushAt);
  const middleMpa = (force.pressureMinMpa + force.pressureMaxMpa) / 2;
  return {
    middle: openingForceKn(force.areaMm2, middleMpa) * armMm,
    top: openingForceKn(force.areaMm2, force.pressureMaxMpa) * armMm,
  };
}

function eccentricLimitKnMm({ press }: ClampCase): number | null {
  const limitNmm = press.clamp.eccentricMomentNmm;
  return limitNmm === null ? null : limitNmm / 1000;
}

function curesFor(situation: string, given: ClampCase): Cure[] {
  const { force, press, drawing, closure } = given;
  switch (situation) {
    case 'opens':
    case 'opens-at-top-of-band':
      return areaCures(drawing, force, press.clamp).filter(({ code }) => code === 'less-area');
    case 'opens-if-tilting':
    case 'opens-unguided':
    case 'little-room': {
      const targetKn = Math.max(closure.guidedFromKn, LITTLE_ROOM * press.clamp.maxKn);
      const pad = padCure(given, targetKn) ?? padCure(given, press.clamp.maxKn);
      return [pad, nearerCure(given, targetKn)].filter((cure) => cure !== null);
    }
    case 'over-eccentric-limit':
    case 'top-of-band-over-eccentric-limit':
      return [towardsSprue(given, (eccentricLimitKnMm(given) ?? 0) / eccentricLoadKnMm(given).top)];
    default:
      return [];
  }
}

/** How much nearer the melt's force must come to the clamp axis to close at `targetKn`, the land staying as it is. */
function nearerCure(given: ClampCase, targetKn: number): Cure | null {
  const { land, force } = given;
  const closesAt = (share: number) => {
    const pushAt = { x: land.pushAt.x * share, y: land.pushAt.y * share };
    return closingRatio(land.moments, land.rim, pushAt).ratio * force.requiredMaxKn <= targetKn;
  };
  if (!closesAt(0)) return null;
  let [closed, open] = [0, 1];
  for (let i = 0; i < 30; i++) {
    const middle = (closed + open) / 2;
    if (closesAt(middle)) closed = middle;
    else open = middle;
  }
  return towardsSprue(given, closed);
}

function towardsSprue({ land }: ClampCase, shareLeft: number): Cure {
  return { code: 'towards-sprue', amount: offAxisMm(land.pushAt) * (1 - shareLeft), unit: 'mm', figures: {} };
}

function offAxisMm({ x, y }: Point): number {
  return Math.hypot(x - CLAMP_AXIS.x, y - CLAMP_AXIS.y);
}
