import { type RunFacts, UNKNOWN_RUN } from '../engineering/heat/check-plate-warming.js';

/** More shots than this nobody makes in one run on a hand-fed press. A choice of ours. */
export const SHOTS_MOST = 100_000;

/** A run as it was said, in the engine's words; what was left out is not known, or no. */
export function runFactsOf(
  said: { readonly shots?: number | undefined; readonly chiller?: boolean | undefined } | undefined,
): RunFacts {
  return { shots: said?.shots ?? UNKNOWN_RUN.shots, chiller: said?.chiller ?? UNKNOWN_RUN.chiller };
}

/** Fields of the fold "The run" as a form has them. */
export const RUN_FIELDS = ['shots', 'chiller'] as const;

export type RunField = (typeof RUN_FIELDS)[number];

export type RunValues = { readonly [field in RunField]: string };

export const RUN_LABELS = {
  shots: 'Shots in a run',
  chiller: 'Cooling water',
} as const satisfies { readonly [field in RunField]: string };

export const RUN_BEGINS: RunValues = { shots: '', chiller: '' };

/** The choices of its select; empty is what usually is. */
export const RUN_OPTIONS = [
  ['', 'none'],
  ['yes', 'chiller, through the plate'],
] as const;

/** The fold's fields as a run, or the field in which something else than a number of shots stands. */
export function runOfForm(values: RunValues): RunFacts | { readonly wrong: RunField } {
  const text = values.shots.trim();
  const shots = /^\d{1,9}$/.test(text) ? Number(text) : null;
  if (text !== '' && (shots === null || shots < 1 || shots > SHOTS_MOST)) return { wrong: 'shots' };
  return { shots, chiller: values.chiller === 'yes' };
}
