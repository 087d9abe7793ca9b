import type { Polymer } from '../polymers/polymer.js';

/** A plate that is hardly colder than the part draws no heat from it: it stays so far below, K. Common practice, no source. */
const BELOW_EJECTION_K = 10;

/** How hot a plate may get for a polymer, deg C, and what says so. */
export interface PlateCeiling {
  readonly celsius: number;
  readonly by: 'mould' | 'ejection';
  readonly source: string;
}

/**
 * The lesser of the hottest mould the polymer is run on and what lies 10 K below its usual ejection temperature, as
 * parts never get colder than their plate; but never below the usual mould temperature, which belongs to that ejection.
 */
export function ceilingOf({ temperatures }: Pick<Polymer, 'temperatures'>): PlateCeiling {
  const { mouldCeilingC, sets } = temperatures;
  const [, { mouldC, ejectionC }] = sets;
  const belowEjectionC = Math.max(mouldC, ejectionC - BELOW_EJECTION_K);
  if (mouldCeilingC.value <= belowEjectionC)
    return { celsius: mouldCeilingC.value, by: 'mould', source: mouldCeilingC.source };
  return { celsius: belowEjectionC, by: 'ejection', source: 'common practice, no source' };
}
