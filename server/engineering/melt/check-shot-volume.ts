import type { Finding, Step } from '../finding.js';
import { sprueAtStack } from '../fit/sprue-at-stack.js';
import type { MeltCase } from './melt-case.js';

/** Less way than this, in screw diameters, and metering gets uneven. Common practice, no source. */
const LEAST_DIAMETERS = 0.25;
/** More of the rated shot than this leaves no melt for cushion and hold. Common practice, no source. */
const LARGEST_SHARE = 0.8;

/** Way of a screw that displaces a volume, mm: V / (pi/4 D^2). */
export function screwWayMm(volumeMm3: number, screwDiameterMm: number): number {
  return volumeMm3 / ((Math.PI / 4) * screwDiameterMm ** 2);
}

/**
 * Does the screw bring the shot, and does it move far enough to bring the same shot again? The figure is the way of
 * the screw for the shot as melt, sprue included, mm.
 */
export function checkShotVolume(melt: MeltCase): Finding {
  const { shot, press, polymer } = melt;
  const { screwDiameterMm, shotCm3 } = press.injection;
  const wayMm = screwWayMm(shot.meltMm3, screwDiameterMm);
  const longestMm = screwWayMm(shotCm3 * 1000, screwDiameterMm);
  const shortestMm = LEAST_DIAMETERS * screwDiameterMm;
  const figures = {
    polymer: polymer.symbol,
    coldCm3: shot.coldMm3 / 1000,
    meltCm3: shot.meltMm3 / 1000,
    sprueCm3: shot.sprueMm3 / 1000,
    massG: shot.massG,
    shotCm3,
    wayMm,
    diameters: wayMm / screwDiameterMm,
    screwDiameterMm,
    longestMm,
    shareOfShot: wayMm / longestMm,
  };
  const common = {
    check: 'shot-volume',
    figure: wayMm,
    unit: 'mm',
    figures,
    places: [],
    cures: [],
    working: workingOf(melt, wayMm, longestMm, shortestMm),
  } as const;
  if (wayMm > longestMm || wayMm > LARGEST_SHARE * longestMm) {
    const isBeyond = wayMm > longestMm;
    const limit = isBeyond ? longestMm : LARGEST_SHARE * longestMm;
    return {
      ...common,
      verdict: isBeyond ? 'stop' : 'caution',
      situation: isBeyond ? 'beyond-press' : 'near-the-end',
      limit,
      allowed: 'at-most',
      margin: limit - wayMm,
      source: isBeyond ? "the press's rated shot" : 'common practice, no source',
      basis: isBeyond ? 'machine' : 'practice',
    };
  }
  const isShort = wayMm < shortestMm;
  return {
    ...common,
    verdict: isShort ? 'caution' : 'clear',
    situation: isShort ? 'short-stroke' : 'in-range',
    limit: shortestMm,
    allowed: 'at-least',
    margin: wayMm - shortestMm,
    source: 'common practice, no source',
    basis: 'practice',
    cures: isShort
      ? [
          {
            code: 'more-in-a-shot',
            amount: moreCm3(shortestMm - wayMm, screwDiameterMm, shot),
            unit: 'cm3',
            figures: {},
          },
        ]
      : [],
  };
}

/** As cold moulding: what a further cavity would have to hold. */
function moreCm3(missingMm: number, screwDiameterMm: number, { coldMm3, meltMm3 }: MeltCase['shot']): number {
  const meltCm3 = (missingMm * (Math.PI / 4) * screwDiameterMm ** 2) / 1000;
  return (meltCm3 * coldMm3) / meltMm3;
}

function workingOf(
  { shot, press, polymer, plate, bolster }: MeltCase,
  wayMm: number,
  longestMm: number,
  shortestMm: number,
): readonly Step[] {
  const { screwDiameterMm, shotCm3 } = press.injection;
  const { lengthMm, endDiameterMm } = sprueAtStack(bolster, plate);
  const { solidDensityGPerCm3: solid, meltDensityGPerCm3: melt } = polymer;
  const machine = { source: "the press's screw and rated shot", basis: 'machine' } as const;
  const worked = { source: 'geometry of cuts and sprue', basis: 'computed' } as const;
  const { mouldedMm3, sprueMm3, coldMm3, meltMm3 } = shot;
  const startMm = bolster.sprue.nozzleEndDiameterMm;
  return [
    { says: 'sprue', figures: { lengthMm, startMm, endMm: endDiameterMm, sprueMm3 }, ...worked },
    { says: 'cold', figures: { mouldedMm3, sprueMm3, coldMm3 }, ...worked },
    {
      says: 'melt',
      figures: { polymer: polymer.symbol, coldMm3, solid: solid.usual, melt: melt.usual, meltMm3 },
      source: `densities of ${polymer.symbol}: cold ${solid.source}; melt ${melt.source}`,
      basis: melt.basis,
    },
    { says: 'way', figures: { meltMm3, screwDiameterMm, wayMm }, ...machine },
    { says: 'longest', figures: { shotMm3: shotCm3 * 1000, screwDiameterMm, longestMm }, ...machine },
    {
      says: 'shortest',
      figures: { times: LEAST_DIAMETERS, screwDiameterMm, shortestMm },
      source: 'common practice, no source',
      basis: 'practice',
    },
  ];
}
