import { type GradeFault, gradeFaults } from '../engineering/polymers/grade-faults.js';
import { findPolymer, POLYMERS } from '../engineering/polymers/polymers.js';
import type { Reason, ReasonCode } from '../reasons.js';
import type { GradeSheet, KeptGrade } from './store.js';

const CODES: { readonly [code in GradeFault['code']]: ReasonCode } = {
  'out-of-range': 'grade-figure-absurd',
  filler: 'grade-figure-absurd',
  missing: 'grade-figure-missing',
  turned: 'grade-range-turned',
  'mould-too-hot': 'grade-mould-too-hot',
  'still-flows': 'grade-ejected-soft',
  'melt-too-cold': 'grade-melt-too-cold',
  'melt-too-hot': 'grade-melt-too-hot',
};

/** Everything that a grade cannot be, each with its field and what is possible; empty for one that can. */
export function gradeReasons(
  grade: GradeSheet & Pick<KeptGrade, 'polymer' | 'isPostConsumer'>,
  now: Date,
): readonly Reason[] {
  const family = findPolymer(grade.polymer);
  const known = POLYMERS.map(({ symbol }) => symbol).join(', ');
  if (family === null)
    return [{ code: 'polymer-unknown', field: 'polymer', figures: { polymer: grade.polymer, known } }];
  const faults = gradeFaults(family, grade).map(({ code, figure, figures }): Reason => {
    const field = figure === 'fillerPercent' ? figure : `figures.${figure}`;
    return { code: CODES[code], field, figures: { ...figures, figure } };
  });
  return [
    ...faults,
    ...(isStillToCome(grade.sheetDate, now)
      ? [{ code: 'grade-sheet-to-come', field: 'sheetDate' } as const]
      : []),
    ...(grade.isPostConsumer && grade.note.trim() === ''
      ? [{ code: 'recyclate-says-nothing', field: 'note' } as const]
      : []),
  ];
}

const DAY_MS = 24 * 60 * 60 * 1000;

/** A day that has begun nowhere on Earth yet. */
function isStillToCome(day: string, now: Date): boolean {
  return Date.parse(`${day}T00:00:00Z`) > now.getTime() + DAY_MS;
}
