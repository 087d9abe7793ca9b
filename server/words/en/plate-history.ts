import { OUTCOME_WORDS } from './runs.js';

/** "ran a trial of revision 1 in PP: runs well". */
export function runToldText(run: {
  readonly kind: 'trial' | 'production';
  readonly revision: number;
  readonly polymer: string;
  readonly outcome: string | null;
}): string {
  const what = run.kind === 'trial' ? 'led a trial of' : 'ran';
  const ended =
    run.outcome !== null && Object.hasOwn(OUTCOME_WORDS, run.outcome)
      ? `: ${OUTCOME_WORDS[run.outcome as keyof typeof OUTCOME_WORDS].name.toLowerCase()}`
      : '';
  return `${what} revision ${run.revision} in ${run.polymer}${ended}`;
}

/** What a plate has been through, in figures. */
export const HISTORY_LABELS = {
  bookings: 'Booked',
  coming: 'Still to come',
  trials: 'Trials',
  runs: 'Runs',
} as const;

/** "once", "3 times". */
export function timesText(count: number): string {
  if (count === 0) return 'never';
  return count === 1 ? 'once' : `${count} times`;
}
