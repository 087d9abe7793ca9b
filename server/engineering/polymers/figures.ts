import type { Basis } from '../finding.js';

/** Where a figure of a resin comes from. */
export interface Origin {
  /** A published source by name, or exactly `common practice, no source` or `handbook value, from memory`. */
  readonly source: string;
  readonly basis: Exclude<Basis, 'machine'>;
}

/** One figure; its unit is in the name of the field that holds it. */
export interface Figure extends Origin {
  readonly value: number;
}

/** A figure that differs from grade to grade: both ends and the usual one, `min <= usual <= max`. */
export interface Band extends Origin {
  readonly min: number;
  readonly usual: number;
  readonly max: number;
}

/** The origin of what handbooks have and nobody looked up again. */
export const MEMORY = { source: 'handbook value, from memory', basis: 'memory' } as const;
const PRACTICE = { source: 'common practice, no source', basis: 'practice' } as const;

/** A figure read in a source that is named. */
export function published(source: string, value: number): Figure {
  return { value, source, basis: 'sourced' };
}

/** A band read in a source that is named; its usual value is the middle unless the source says another. */
export function publishedBand(source: string, min: number, max = min, usual = (min + max) / 2): Band {
  return { min, usual, max, source, basis: 'sourced' };
}

/** A figure as handbooks have it, not looked up again. */
export function remembered(value: number): Figure {
  return { value, ...MEMORY };
}

/** A band as handbooks have it, not looked up again. */
export function rememberedBand(min: number, max = min, usual = (min + max) / 2): Band {
  return { min, usual, max, ...MEMORY };
}

/** A figure that shops go by. */
export function practised(value: number): Figure {
  return { value, ...PRACTICE };
}

/** A band that shops go by. */
export function practisedBand(min: number, max = min, usual = (min + max) / 2): Band {
  return { min, usual, max, ...PRACTICE };
}

/** A band worked out from published figures. */
export function workedOutBand(from: string, min: number, max = min, usual = (min + max) / 2): Band {
  return { min, usual, max, source: from, basis: 'computed' };
}

/** The basis of what was read in a source that is named. */
export const SOURCED = 'sourced';

/** Two sources that together give a band. */
export function both(one: string, other: string): string {
  return `${one}; ${other}`;
}
