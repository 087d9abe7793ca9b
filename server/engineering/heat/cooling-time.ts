/** What is left of the excess over the mould's temperature, as a share of what the melt came in with. */
export type WhereCooled = 'centre' | 'average';

/** The shape heat leaves: a slab through its two faces, a bar through four sides, a round rod. */
export type CooledShape =
  | { readonly kind: 'slab'; readonly thicknessMm: number }
  | { readonly kind: 'bar'; readonly thicknessMm: number; readonly widthMm: number }
  | { readonly kind: 'rod'; readonly diameterMm: number };

export interface CoolingCase {
  readonly diffusivityMm2PerS: number;
  readonly meltC: number;
  readonly mouldC: number;
  readonly ejectionC: number;
}

/**
 * Seconds until a section has cooled to ejection with its faces held at the mould's temperature, by the
 * one-dimensional Fourier solution; for a bar the product of two slabs. `centre`: until the middle is there;
 * `average`: until the mean is.
 *
 * Source: Carslaw and Jaeger, Conduction of Heat in Solids, sections 3.3 (slab), 5.6 (product), 7.6 (cylinder):
 * handbook value, from memory.
 *
 * @throws RangeError unless mould < ejection < melt and every size is positive
 */
export function coolingTimeS(shape: CooledShape, cooling: CoolingCase, where: WhereCooled): number {
  const { diffusivityMm2PerS: a, meltC, mouldC, ejectionC } = cooling;
  if (!(mouldC < ejectionC && ejectionC < meltC)) {
    throw new RangeError(`cooling from ${meltC} to ${ejectionC} in a mould of ${mouldC} deg C`);
  }
  const sizes =
    shape.kind === 'rod'
      ? [shape.diameterMm]
      : shape.kind === 'bar'
        ? [shape.thicknessMm, shape.widthMm]
        : [shape.thicknessMm];
  if (!sizes.every((mm) => mm > 0) || !(a > 0)) throw new RangeError('cooling of nothing');
  const wanted = (ejectionC - mouldC) / (meltC - mouldC);
  const left = (seconds: number) =>
    shape.kind === 'rod'
      ? rodExcess((4 * a * seconds) / shape.diameterMm ** 2, where)
      : sizes.reduce((share, mm) => share * slabExcess((4 * a * seconds) / mm ** 2, where), 1);
  let short = 0;
  let long = Math.min(...sizes) ** 2 / a;
  while (left(long) > wanted) [short, long] = [long, 2 * long];
  for (let halving = 0; halving < 48; halving++) {
    const middle = (short + long) / 2;
    if (left(middle) > wanted) short = middle;
    else long = middle;
  }
  return long;
}

/** Terms of a series beyond which nothing is added that anybody could measure. */
const TERMS = 60;

/**
 * Share of the excess left in a slab whose faces went to the mould's temperature at once.
 *
 * @param fourier a t over the square of half the thickness
 */
export function slabExcess(fourier: number, where: WhereCooled): number {
  let share = 0;
  for (let k = 0; k < TERMS; k++) {
    const beta = ((2 * k + 1) * Math.PI) / 2;
    const fade = Math.exp(-beta * beta * fourier);
    share += where === 'centre' ? ((k % 2 === 0 ? 2 : -2) / beta) * fade : (2 / beta ** 2) * fade;
    if (fade < 1e-14) break;
  }
  return Math.min(1, share);
}

/**
 * The same of a long round rod.
 *
 * @param fourier a t over the square of the radius
 */
export function rodExcess(fourier: number, where: WhereCooled): number {
  let share = 0;
  for (const { root, j1 } of ROOTS) {
    const fade = Math.exp(-root * root * fourier);
    share += where === 'centre' ? (2 / (root * j1)) * fade : (4 / root ** 2) * fade;
    if (fade < 1e-14) break;
  }
  return Math.min(1, share);
}

/** Where the Bessel function J0 is nought, and J1 there: from the asymptotic start refined by Newton's steps. */
const ROOTS = Array.from({ length: TERMS }, (_, k) => {
  let root = (k + 0.75) * Math.PI;
  for (let step = 0; step < 6; step++) root += bessel(0, root) / bessel(1, root);
  return { root, j1: bessel(1, root) };
});

/** J0 or J1 by the mean of cos(n t - x sin t) over half a turn, which a midpoint rule gives to all figures. */
function bessel(order: 0 | 1, x: number): number {
  const pieces = 400;
  let sum = 0;
  for (let i = 0; i < pieces; i++) {
    const angle = ((i + 0.5) * Math.PI) / pieces;
    sum += Math.cos(order * angle - x * Math.sin(angle));
  }
  return sum / pieces;
}
