import { type CheckName, VERDICTS_WORST_FIRST } from '../../engineering/finding.js';
import type { CheckReport } from '../check-report-schema.js';

type FindingReport = CheckReport['findings'][number];

/** What became of a check: its verdict, or within the same verdict its margin. `new` and `gone`: only one has it. */
export const FINDING_CHANGES = [
  'better',
  'worse',
  'more-margin',
  'less-margin',
  'other',
  'same',
  'new',
  'gone',
] as const;

export type FindingChange = (typeof FINDING_CHANGES)[number];

export interface FindingCompared {
  readonly check: CheckName;
  readonly change: FindingChange;
  readonly from: FindingReport | null;
  readonly to: FindingReport | null;
}

/** Margins nearer than this part of the larger are the same. */
const SAME_MARGIN = 1e-3;

/** Two reports check by check, in the order of the later one. */
export function findingsCompared(from: CheckReport, to: CheckReport): readonly FindingCompared[] {
  const before = new Map(from.findings.map((finding) => [finding.check, finding]));
  const after = new Set(to.findings.map(({ check }) => check));
  return [
    ...to.findings.map((finding) => compared(before.get(finding.check) ?? null, finding)),
    ...from.findings.filter(({ check }) => !after.has(check)).map((finding) => compared(finding, null)),
  ];
}

function compared(from: FindingReport | null, to: FindingReport | null): FindingCompared {
  const check = (to ?? from)?.check as CheckName;
  return { check, from, to, change: changeOf(from, to) };
}

function changeOf(from: FindingReport | null, to: FindingReport | null): FindingChange {
  if (from === null) return 'new';
  if (to === null) return 'gone';
  const [was, is] = [from, to].map(({ verdict }) => VERDICTS_WORST_FIRST.indexOf(verdict)) as [
    number,
    number,
  ];
  if (was !== is) return is > was ? 'better' : 'worse';
  if (from.margin === null || to.margin === null || from.unit !== to.unit)
    return from.line === to.line ? 'same' : 'other';
  const byMm = to.margin - from.margin;
  const size = Math.max(Math.abs(to.margin), Math.abs(from.margin));
  if (Math.abs(byMm) <= SAME_MARGIN * size) return 'same';
  return byMm > 0 ? 'more-margin' : 'less-margin';
}
