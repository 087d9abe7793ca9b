import type { Point } from './geometry/point.js';

/** Every check there is, in the order a report lists them. Those not built yet are absent from a report. */
export const CHECKS = [
  'face',
  'bolt-pattern',
  'feed-on-sprue',
  'screw-engagement',
  'screw-heads',
  'walls',
  'daylight',
  'opening-stroke',
  'clamp-force',
  'parting-line',
  'land-pressure',
  'plate-floor',
  'shot-volume',
  'residence',
  'gate-shear',
  'fill-pressure',
  'vents',
  'cooling',
  'plate-warming',
  'release',
  'machinable',
  'shrinkage',
  'drying',
] as const;

export type CheckName = (typeof CHECKS)[number];

export type Verdict = 'clear' | 'caution' | 'stop' | 'unknown';

/** Worst first: a report's verdict is the first of these that any finding has. */
export const VERDICTS_WORST_FIRST: readonly Verdict[] = ['stop', 'unknown', 'caution', 'clear'];

/** Where a figure comes from: published, worked out, remembered, practice, or the machine's own limit. */
export type Basis = 'sourced' | 'computed' | 'memory' | 'practice' | 'machine';

/** Facts a sentence is made of. Numbers carry their unit in the name. */
export type Figures = { readonly [name: string]: number | string | readonly number[] };

/** What a plate's owner can try differently without drawing it again; the fields of a check request. */
export interface PlateChange {
  readonly thicknessMm?: number;
  readonly facingThicknessMm?: number;
  readonly packerThicknessMm?: number;
  readonly alloy?: string;
  readonly screwLengthMm?: number;
  readonly headSinkDepthMm?: number;
  readonly headSinkDiameterMm?: number;
}

/** The nearest change that clears a finding. `change` is set when a check can be run with it at once. */
export interface Cure {
  /** Names the sentence in `words/`, for instance `add-packer`. */
  readonly code: string;
  /** The one figure that is shown large. */
  readonly amount: number;
  readonly unit: string;
  readonly figures: Figures;
  readonly at?: Point;
  readonly change?: PlateChange;
}

/** One line of how a finding's figure comes about: an input and where it is from, or a formula with its numbers. */
export interface Step {
  /** Names the line in `words/` within the check, for instance `opening-force`. */
  readonly says: string;
  /** Every number that stands in the line, its result too. */
  readonly figures: Figures;
  /** Of the input, or of the formula. */
  readonly source: string;
  readonly basis: Basis;
}

/** One line of a plate check. */
export interface Finding {
  readonly check: CheckName;
  readonly verdict: Verdict;
  /** Names the sentence in `words/` within the check, for instance `below-minimum`. */
  readonly situation: string;
  readonly figure: number | null;
  readonly limit: number | { readonly min: number | null; readonly max: number | null } | null;
  /** Which side of the limit is allowed. Null where there is no limit. */
  readonly allowed: 'at-least' | 'at-most' | 'between' | null;
  readonly unit: string;
  /** Positive: to spare; negative: missing. In `unit`. */
  readonly margin: number | null;
  readonly figures: Figures;
  /** Where it is on the drawing, mm; the first is the telling one. */
  readonly places: readonly Point[];
  readonly cures: readonly Cure[];
  /** Step by step to the figure, to be followed on paper; left out where a figure is read off the drawing. */
  readonly working?: readonly Step[];
  readonly source: string;
  readonly basis: Basis;
}
