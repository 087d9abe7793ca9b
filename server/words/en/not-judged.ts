import type { CheckName } from '../../engineering/finding.js';

/** What moulding also depends on, and the checks that will ask for it: none of a line is there yet, or it is judged. */
const SUBJECTS: readonly { readonly subject: string; readonly checks: readonly string[] }[] = [
  { subject: 'filling', checks: ['gate-shear', 'fill-pressure'] },
  { subject: 'venting', checks: ['vents'] },
  { subject: 'the shot and the melt’s time in the barrel', checks: ['shot-volume', 'residence'] },
  { subject: 'cooling and the plate’s warming', checks: ['cooling', 'plate-warming'] },
  { subject: 'release and draft', checks: ['release'] },
  { subject: 'milling and cutters', checks: ['machinable'] },
  { subject: 'shrinkage', checks: ['shrinkage'] },
  { subject: 'drying', checks: ['drying'] },
  { subject: 'changing over from the resin before', checks: ['changeover'] },
];

/**
 * What no check looks at yet, so that nobody takes silence for a clear.
 *
 * @param checks the checks there are
 */
export function notJudgedBy(checks: readonly CheckName[]): readonly string[] {
  const there = new Set<string>(checks);
  return SUBJECTS.filter((one) => !one.checks.some((check) => there.has(check))).map(
    ({ subject }) => subject,
  );
}

/** "Not looked at yet: filling, venting, cooling." Nothing where all is looked at. */
export function notJudgedText(subjects: readonly string[]): string | null {
  return subjects.length === 0 ? null : `Not looked at yet: ${subjects.join(', ')}.`;
}
