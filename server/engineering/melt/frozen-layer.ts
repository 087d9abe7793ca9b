import type { Polymer } from '../polymers/polymer.js';

/**
 * How thick the layer is that no longer flows on each wall after some seconds, mm: where a half-space that meets the
 * mould's temperature at its face has come down to no-flow, x = 2 sqrt(a t) erfinv((Tn - Tw)/(Tm - Tw)).
 *
 * Source: Carslaw and Jaeger, Conduction of Heat in Solids, section 2.4: handbook value, from memory.
 */
export function frozenLayerMm({ diffusivityMm2PerS, temperatures }: Polymer, seconds: number): number {
  const { meltC, mouldC } = temperatures.sets[1];
  const share = (temperatures.noFlowC.usual - mouldC) / (meltC - mouldC);
  if (share <= 0) return 0;
  return 2 * Math.sqrt(diffusivityMm2PerS.usual * seconds) * inverseErf(share);
}

/** Serge Winitzki's approximation of the inverse error function, good to two parts in a thousand. */
function inverseErf(y: number): number {
  const a = 0.147;
  const log = Math.log(1 - y * y);
  const half = 2 / (Math.PI * a) + log / 2;
  return Math.sqrt(Math.sqrt(half * half - log / a) - half);
}
