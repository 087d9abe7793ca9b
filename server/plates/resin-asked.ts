import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import type { Grade } from '../engineering/polymers/grade.js';
import { may } from '../members/permissions.js';
import { Refusal, refuse } from '../reasons.js';
import { gradeById } from '../resin/store.js';
import { polymerNamed } from './polymer-named.js';

/** A polymer by our short name, and its grade where one was asked for. */
export interface ResinAsked {
  readonly polymer: string;
  readonly grade?: Grade;
}

/** The resin of a check request: a polymer by any of its symbols, or a grade of the house, which strangers do not see. */
export async function resinAsked(
  db: Queryable,
  { polymer, gradeId }: { readonly polymer?: string | undefined; readonly gradeId?: string | undefined },
  actor: Actor | undefined,
): Promise<ResinAsked | Refusal> {
  if (gradeId === undefined) {
    const named = polymerNamed(polymer ?? '', 'resin.polymer');
    return named instanceof Refusal ? named : { polymer: named };
  }
  const mayAsk = actor !== undefined && may(actor, 'grade-see');
  const grade = mayAsk ? await gradeById(db, gradeId) : undefined;
  if (grade === undefined) return refuse('not-found', { field: 'resin.gradeId', figures: { what: 'grade' } });
  return { polymer: grade.polymer, grade };
}
