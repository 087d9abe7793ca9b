import type { Cure, Finding, Step } from '../finding.js';
import { stackMm, upToTenth } from './plate-with.js';
import { type StackedPlate, stackCure } from './stack-cure.js';

/**
 * A stack this little above the minimum daylight may in truth lie below it, mm: stock, facing cuts and worn bolster
 * faces are each off by some 0.05 mm or more, and they add up. Common practice, no source.
 */
const MEASURE_BAND_MM = 0.2;

/**
 * Do the bolster faces close on the stack? Plate + facing plate + packer between the bolster's minimum daylight and
 * the largest stack it takes, mm. Below it the faces stop short, the plate is never clamped and melt sprays out of
 * the gap; so little above it that nobody can tell without measuring is a caution, and no cure ends there. A stack too
 * thick merely does not close, so its limit has no such band. The cures keep the screws in thread: a packer lies behind the insert plate, on the moving side, where it
 * leaves the sprue as long as it is but makes the screws bridge it.
 */
export function checkDaylight(input: StackedPlate): Finding {
  const { plate, bolster } = input;
  const stack = stackMm(plate);
  const { minimumDaylightMm, largestStackMm } = bolster;
  const short = stack < minimumDaylightMm - 1e-6;
  const long = stack > largestStackMm + 1e-6;
  const near = !short && stack < minimumDaylightMm + MEASURE_BAND_MM - 1e-6;
  const missingMm = minimumDaylightMm + MEASURE_BAND_MM - stack;
  return {
    check: 'daylight',
    verdict: short || long ? 'stop' : near ? 'caution' : 'clear',
    situation: short ? 'below-minimum' : long ? 'above-largest' : near ? 'near-minimum' : 'closes',
    figure: stack,
    limit: { min: minimumDaylightMm, max: largestStackMm },
    allowed: 'between',
    unit: 'mm',
    margin: Math.min(stack - minimumDaylightMm, largestStackMm - stack),
    figures: {
      stackMm: stack,
      thicknessMm: plate.thicknessMm,
      facingThicknessMm: plate.facingThicknessMm,
      packerThicknessMm: plate.packerThicknessMm,
      minimumDaylightMm,
      largestStackMm,
      gapMm: Math.max(0, minimumDaylightMm - stack),
      bandMm: MEASURE_BAND_MM,
    },
    places: [],
    cures: long
      ? thinner(input, stack - largestStackMm)
      : short || near
        ? thicker(input, missingMm).filter((cure) => Number(cure.figures.stackMm) <= largestStackMm)
        : [],
    working: workingOf(input, stack),
    source: near ? 'common practice, no source' : "the machine's own limit",
    basis: near ? 'practice' : 'machine',
  };
}

function thicker(input: StackedPlate, missingMm: number): readonly Cure[] {
  const { plate } = input;
  const addMm = upToTenth(missingMm);
  return [
    stackCure(input, 'add-packer', addMm, { packerThicknessMm: plate.packerThicknessMm + addMm }),
    stackCure(input, 'thicker-stock', plate.thicknessMm + addMm, { thicknessMm: plate.thicknessMm + addMm }),
  ];
}

/** What can be taken off the stack, the least trouble first: packer, facing plate, then the plate itself. */
function thinner(input: StackedPlate, overMm: number): readonly Cure[] {
  const { plate } = input;
  const offMm = upToTenth(overMm);
  const cures: Cure[] = [];
  const packerMm = plate.packerThicknessMm - offMm;
  const facingMm = plate.facingThicknessMm - offMm;
  const thicknessMm = plate.thicknessMm - offMm;
  if (packerMm >= 0)
    cures.push(stackCure(input, 'thinner-packer', packerMm, { packerThicknessMm: packerMm }));
  if (facingMm >= 0)
    cures.push(stackCure(input, 'thinner-facing', facingMm, { facingThicknessMm: facingMm }));
  if (thicknessMm > 0) cures.push(stackCure(input, 'thinner-stock', thicknessMm, { thicknessMm }));
  return cures;
}

function workingOf({ plate, bolster }: StackedPlate, stack: number): readonly Step[] {
  const { thicknessMm, facingThicknessMm, packerThicknessMm } = plate;
  const { minimumDaylightMm, largestStackMm } = bolster;
  const record = { source: 'the bolster’s record', basis: 'machine' } as const;
  return [
    {
      says: 'stack',
      figures: { thicknessMm, facingThicknessMm, packerThicknessMm, stackMm: stack },
      source: 'thicknesses as given',
      basis: 'computed',
    },
    {
      says: 'above-least',
      figures: { stackMm: stack, minimumDaylightMm, leftMm: stack - minimumDaylightMm },
      ...record,
    },
    {
      says: 'below-largest',
      figures: { stackMm: stack, largestStackMm, leftMm: largestStackMm - stack },
      ...record,
    },
  ];
}
