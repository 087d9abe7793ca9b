import type { Band } from './figures.js';
import type { Polymer, TemperatureSet } from './polymer.js';

/** Figures of a polymer or a grade that cannot be true together. Temperatures in deg C. */
export interface Incoherence {
  readonly code:
    | 'band-turned'
    | 'mould-over-ejection'
    | 'ejection-over-no-flow'
    | 'melt-below-no-flow'
    | 'over-melt-limit';
  readonly figures: { readonly [name: string]: number | string };
}

/**
 * What cannot be true of a polymer's figures: a band turned round, a mould not cooler than the part at ejection, a
 * part taken out while it still flows, a melt too cold to flow or hotter than it may ever be.
 */
export function firstIncoherence(polymer: Polymer): Incoherence | null {
  for (const [name, band] of bandsOf(polymer)) {
    if (band.min > band.usual || band.usual > band.max) {
      return { code: 'band-turned', figures: { name, min: band.min, usual: band.usual, max: band.max } };
    }
  }
  for (const set of polymer.temperatures.sets) {
    const wrong = wrongSet(set, polymer.temperatures);
    if (wrong !== null) return wrong;
  }
  return null;
}

function wrongSet(
  { name, meltC, mouldC, ejectionC }: TemperatureSet,
  { noFlowC, meltLimitC }: Polymer['temperatures'],
): Incoherence | null {
  if (mouldC >= ejectionC) return { code: 'mould-over-ejection', figures: { name, mouldC, ejectionC } };
  if (ejectionC >= noFlowC.max) {
    return { code: 'ejection-over-no-flow', figures: { name, ejectionC, noFlowC: noFlowC.max } };
  }
  if (meltC <= noFlowC.max)
    return { code: 'melt-below-no-flow', figures: { name, meltC, noFlowC: noFlowC.max } };
  if (meltLimitC !== null && meltC >= meltLimitC.value) {
    return { code: 'over-melt-limit', figures: { name, meltC, limitC: meltLimitC.value } };
  }
  return null;
}

function bandsOf(polymer: Polymer): readonly (readonly [string, Band])[] {
  const groups = [polymer, polymer.temperatures, polymer.drying ?? {}];
  return groups.flatMap((group) =>
    Object.entries(group).flatMap(([name, value]) => (isBand(value) ? [[name, value] as const] : [])),
  );
}

function isBand(value: unknown): value is Band {
  return typeof value === 'object' && value !== null && 'usual' in value && 'min' in value;
}
