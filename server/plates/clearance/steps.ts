/** The three steps of a plate's clearance, in their order. */
export const STEPS = ['fit', 'trial', 'production'] as const;
export type Step = (typeof STEPS)[number];

/** How far a plate has come. */
export type Reached = 'none' | Step;

/** What can be decided about a step: the last three take the plate back to before it. */
export const DECISIONS = ['clear', 'refuse', 'rework', 'void'] as const;
export type Decision = (typeof DECISIONS)[number];

const ORDER: readonly Reached[] = ['none', ...STEPS];

/** How many steps have been reached: 0 to 3. */
export function stepsReached(reached: Reached): number {
  return ORDER.indexOf(reached);
}

/** The step that comes next; null when all stand. */
export function nextStep(reached: Reached): Step | null {
  return STEPS[stepsReached(reached)] ?? null;
}

/** Where a decision about a step leaves the plate. */
export function reachedAfter(decision: Decision, step: Step): Reached {
  return decision === 'clear' ? step : (ORDER[stepsReached(step) - 1] ?? 'none');
}
