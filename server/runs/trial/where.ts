import type { TrialPlan, TrialStep } from '../../engineering/run/trial-steps.js';

/** Where a step led: to the next, to the same once more, to the one before, or to the end of the trial. */
export const WENT = ['on', 'again', 'back', 'stop'] as const;
export type Went = (typeof WENT)[number];

export interface Where {
  /** The step that is due; undefined when all are through, or the trial was stopped. */
  readonly next: TrialStep | undefined;
  /** Its place in the plan, counted from 0. */
  readonly place: number;
  /** True once nothing is left but steps that are done as needed. */
  readonly isThrough: boolean;
  readonly isStopped: boolean;
}

/** Where a trial stands after what was kept of it, in the order in which it was kept. */
export function whereIn(
  { steps }: Pick<TrialPlan, 'steps'>,
  kept: readonly { readonly went: Went }[],
): Where {
  let place = 0;
  for (const { went } of kept) {
    if (went === 'on') place = Math.min(place + 1, steps.length);
    if (went === 'back') place = Math.max(place - 1, 0);
  }
  const isStopped = kept.at(-1)?.went === 'stop';
  return {
    next: isStopped ? undefined : steps[place],
    place,
    isThrough: !isStopped && steps.slice(place).every(({ asNeeded }) => asNeeded),
    isStopped,
  };
}
