import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { GRADE_FIGURES } from '../engineering/polymers/grade.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal, refuse } from '../reasons.js';
import { gradeReasons } from './grade-reasons.js';
import { type GradeSheet, gradeById, holdGrade, insertGradeVersion, type KeptGrade } from './store.js';

export interface GradeRevised {
  readonly id: string;
  /** The version it was changed from. */
  readonly basedOn: number;
  readonly sheet: GradeSheet;
  readonly why: string;
}

/**
 * Makes a version of a grade: another data sheet, or a figure put right. Reports already made keep theirs.
 *
 * @returns the version, or every reason why not: no right, no such grade, changed meanwhile, figures that cannot be
 */
export async function reviseGrade(
  { actor, now, tx }: Ctx,
  { id, basedOn, sheet, why }: GradeRevised,
): Promise<number | Refusal> {
  const forbidden = refusalUnless(actor, 'grade-keep', {});
  if (forbidden !== undefined) return forbidden;
  await holdGrade(tx, id);
  const grade = await gradeById(tx, id);
  if (grade === undefined) return refuse('not-found', { figures: { what: 'grade' } });
  if (grade.version !== basedOn) return refuse('changed-meanwhile');
  const { polymer, isPostConsumer } = grade;
  const [reason, ...others] = gradeReasons({ ...sheet, polymer, isPostConsumer }, now);
  if (reason !== undefined) return new Refusal([reason, ...others]);
  if (saysTheSame(grade, sheet)) return refuse('version-unchanged');
  const version = grade.version + 1;
  await insertGradeVersion(tx, id, version, { ...sheet, why, by: actor.memberId, at: now });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'grade-revised',
    subjectKind: 'resin-grade',
    subjectId: id,
    details: { name: grade.name, version, why },
  });
  return version;
}

function saysTheSame(one: KeptGrade, other: GradeSheet): boolean {
  return (
    one.sheetTitle === other.sheetTitle &&
    one.sheetDate === other.sheetDate &&
    one.isHalogenated === other.isHalogenated &&
    one.fillerPercent === other.fillerPercent &&
    one.note === other.note &&
    GRADE_FIGURES.every((figure) => one.figures[figure] === other.figures[figure])
  );
}
