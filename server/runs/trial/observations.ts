import type { TrialStepKind } from '../../engineering/run/trial-steps.js';

/** What can be ticked as seen at a step, by its kind; what there is no tick for goes into words. */
export const OBSERVATIONS = {
  'close-gently': ['closes-evenly', 'heads-below-face', 'gap-at-rim', 'strikes'],
  'short-shot': ['fills-evenly', 'cavity-behind', 'nothing-came', 'flash', 'burn-mark', 'sticks'],
  'full-shot': ['full', 'still-short', 'sink-mark', 'flash', 'burn-mark', 'sticks'],
  hold: ['sink-gone', 'sink-mark', 'still-short', 'flash', 'weld-line', 'sticks'],
  'flash-check': ['no-flash', 'flash', 'flash-one-side', 'flash-at-vents'],
  'part-release': ['lifts-freely', 'sticks', 'bends', 'stays-on-fixed-half', 'sprue-stays'],
  'clamp-force': ['no-flash', 'flash', 'flash-one-side', 'land-marked'],
} as const satisfies { readonly [kind in TrialStepKind]: readonly string[] };

export type Observation = (typeof OBSERVATIONS)[TrialStepKind][number];

/** What speaks against going on: at the gentle closing it ends there, later it takes words to go on. */
const BAD: readonly Observation[] = [
  'gap-at-rim',
  'strikes',
  'flash',
  'flash-one-side',
  'flash-at-vents',
  'burn-mark',
  'sticks',
  'stays-on-fixed-half',
  'land-marked',
];

/** What of it was ticked and speaks against going on. */
export function badSigns(seen: readonly Observation[]): readonly Observation[] {
  return seen.filter((one) => BAD.includes(one));
}

export const ALL_OBSERVATIONS = [...new Set(Object.values(OBSERVATIONS).flat())] as readonly Observation[];
