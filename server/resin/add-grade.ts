import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { pgFaultOf } from '../database/pg-fault.js';
import { findPolymer } from '../engineering/polymers/polymers.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal, refuse } from '../reasons.js';
import { gradeReasons } from './grade-reasons.js';
import { type GradeSheet, insertGrade, insertGradeVersion, type KeptGrade } from './store.js';

export type NewGrade = GradeSheet & Pick<KeptGrade, 'name' | 'polymer' | 'isPostConsumer'>;

/**
 * Adds a resin grade with what its data sheet says.
 *
 * @returns its id, or every reason why not: no right, an unknown polymer, figures that cannot be, a name that another has
 */
export async function addGrade({ actor, now, tx }: Ctx, grade: NewGrade): Promise<string | Refusal> {
  const forbidden = refusalUnless(actor, 'grade-keep', {});
  if (forbidden !== undefined) return forbidden;
  const [reason, ...others] = gradeReasons(grade, now);
  if (reason !== undefined) return new Refusal([reason, ...others]);
  const polymer = findPolymer(grade.polymer)?.symbol ?? grade.polymer;
  const { memberId } = actor;
  try {
    const id = await insertGrade(tx, { ...grade, polymer, by: memberId, at: now });
    await insertGradeVersion(tx, id, 1, { ...grade, why: null, by: memberId, at: now });
    const details = { name: grade.name, polymer, sheet: grade.sheetTitle };
    const what = { action: 'grade-added', subjectKind: 'resin-grade', subjectId: id } as const;
    await recordAudit(tx, { at: now, actorId: memberId, ...what, details });
    return id;
  } catch (error) {
    if (pgFaultOf(error)?.constraint !== 'resin_grade_name_once') throw error;
    return refuse('grade-name-taken', { field: 'name', figures: { name: grade.name } });
  }
}
