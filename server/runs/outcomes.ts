/** How a run ended, by its kind. */
export const OUTCOMES = {
  trial: ['runs-well', 'needs-rework', 'stopped'],
  production: ['finished', 'stopped'],
} as const;

export type Outcome = (typeof OUTCOMES)['trial' | 'production'][number];

export const ALL_OUTCOMES = ['runs-well', 'needs-rework', 'finished', 'stopped'] as const;

/** Those that go without saying why. */
export const GOOD_OUTCOMES: readonly Outcome[] = ['runs-well', 'finished'];

export function isOutcomeOf(kind: 'trial' | 'production', outcome: Outcome): boolean {
  return (OUTCOMES[kind] as readonly Outcome[]).includes(outcome);
}
