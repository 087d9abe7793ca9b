import type { Step } from '../finding.js';
import type { MeltCase } from '../melt/melt-case.js';
import { rodExcess, slabExcess, type WhereCooled } from './cooling-time.js';

const SERIES = {
  source:
    'Carslaw and Jaeger, Conduction of Heat in Solids, sections 3.3, 5.6 and 7.6: handbook value, from memory',
  basis: 'memory',
} as const;

/** Fourier numbers, a t over the square of the whole thickness, between which other forms are good to one percent. */
const NOTHING_YET = { centre: 0.01, average: 0.000_006 };
const ONE_TERM_FROM = 0.06;

/**
 * How the cooling time is come by: what share of the excess may be left, what the first terms of Fourier's series leave
 * after that time in each direction, their product, and the cycle.
 */
export function coolingWorking({ polymer, cycle }: MeltCase): readonly Step[] {
  const [, { meltC, mouldC, ejectionC }] = polymer.temperatures.sets;
  const { source, basis } = polymer.diffusivityMm2PerS;
  const wanted = (ejectionC - mouldC) / (meltC - mouldC);
  const a = polymer.diffusivityMm2PerS.usual;
  const { governing: shape, coolS, governedBy } = cycle;
  const where: WhereCooled = governedBy === 'part' ? 'centre' : 'average';
  const { setsOrigin } = polymer.temperatures;
  return [
    { says: 'temperatures', figures: { polymer: polymer.symbol, meltC, mouldC, ejectionC }, ...setsOrigin },
    { says: 'diffusivity', figures: { polymer: polymer.symbol, a }, source, basis },
    {
      says: 'may-be-left',
      figures: { meltC, mouldC, ejectionC, wanted },
      source: 'share of the excess',
      basis: 'computed',
    },
    ...(shape.kind === 'rod'
      ? [rodStep(shape.diameterMm, a, coolS, where)]
      : shape.kind === 'slab'
        ? [slabStep('deep', shape.thicknessMm, a, coolS, where)]
        : barSteps(shape.thicknessMm, shape.widthMm, a, coolS, where)),
    {
      says: 'cycle',
      figures: { dryS: cycle.dryS, fillS: cycle.fillS, coolS, cycleS: cycle.totalS },
      source: cycle.isDryKnown ? "the press's dry cycle" : 'common practice, no source',
      basis: cycle.isDryKnown ? 'machine' : 'practice',
    },
  ];
}

function barSteps(
  depthMm: number,
  widthMm: number,
  a: number,
  seconds: number,
  where: WhereCooled,
): readonly Step[] {
  const [deep, wide] = [
    slabStep('deep', depthMm, a, seconds, where),
    slabStep('wide', widthMm, a, seconds, where),
  ];
  const [throughDepth, throughWidth] = [Number(deep.figures.left), Number(wide.figures.left)];
  return [
    deep,
    wide,
    {
      says: 'product',
      figures: { throughDepth, throughWidth, left: throughDepth * throughWidth, seconds },
      ...SERIES,
    },
  ];
}

function slabStep(way: 'deep' | 'wide', mm: number, a: number, seconds: number, where: WhereCooled): Step {
  const fourier = (a * seconds) / mm ** 2;
  const form = formOf(fourier, where);
  return {
    says: `${way}-${where}-${form}`,
    figures: { a, seconds, mm, fourier, left: slabExcess(4 * fourier, where) },
    ...SERIES,
  };
}

/** The form that is good to a percent: all of it left still, the short-time law of a mean, three terms, or one. */
function formOf(fourier: number, where: WhereCooled): 'all' | 'early' | 'terms' | 'term' {
  if (fourier < NOTHING_YET[where]) return 'all';
  if (fourier >= ONE_TERM_FROM) return 'term';
  return where === 'average' ? 'early' : 'terms';
}

function rodStep(diameterMm: number, a: number, seconds: number, where: WhereCooled): Step {
  return {
    says: `rod-${where}`,
    figures: { a, seconds, mm: diameterMm, left: rodExcess((4 * a * seconds) / diameterMm ** 2, where) },
    ...SERIES,
  };
}
