import type { Cure, Finding } from '../../../engineering/finding.js';

/** How the page groups checks, in this order. */
export const CHECK_GROUPS = ['Fit', 'Force', 'Melt', 'Heat', 'Part', 'Resin'] as const;

export type CheckGroup = (typeof CHECK_GROUPS)[number];

/** One cure in words: what to do, and what else changes with it (null when nothing does). */
export interface CureWords {
  readonly what: string;
  readonly also: string | null;
}

/**
 * All sentences of one check. `summary` and `cures` are keyed by the finding's `situation` and the cure's `code`;
 * every situation and code the check can give has its entry.
 */
export interface CheckWords {
  readonly name: string;
  readonly group: CheckGroup;
  /** Short text under the name: the figure and its limit, for instance "10.0 mm, at least 12.0". */
  readonly line: (finding: Finding) => string;
  /** Said after a margin that is missing: "2.0 mm too thin". By check, and by the side of the limit that is passed. */
  readonly past: (finding: Finding) => string;
  readonly summary: { readonly [situation: string]: (finding: Finding) => string };
  /** What to mind besides, or null; keyed like `summary`, an absent entry means nothing. */
  readonly advice?: { readonly [situation: string]: (finding: Finding) => string | null };
  readonly cures: { readonly [code: string]: (cure: Cure) => CureWords };
}
