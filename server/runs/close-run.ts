import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { Refusal, refuse } from '../reasons.js';
import { GOOD_OUTCOMES, isOutcomeOf, type Outcome } from './outcomes.js';
import { runToChange } from './run-to-change.js';
import { setClosed, stepsOf } from './store.js';
import { whereIn } from './trial/where.js';

export interface ClosingWanted {
  readonly runId: string;
  readonly outcome: Outcome;
  readonly note: string | null;
}

/** Closes a run, once; a trial runs well only when every step of it is through. */
export async function closeRun(ctx: Ctx, { runId, outcome, note }: ClosingWanted): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const run = await runToChange(ctx, runId);
  if (run instanceof Refusal) return run;
  if (!isOutcomeOf(run.kind, outcome)) {
    return refuse('field-invalid', { field: 'outcome', figures: { detail: `not of a ${run.kind}` } });
  }
  if (!GOOD_OUTCOMES.includes(outcome) && note === null) return refuse('run-says-why', { field: 'note' });
  if (outcome === 'runs-well' && run.trialPlan !== null) {
    const { isThrough, isStopped, next } = whereIn(run.trialPlan, await stepsOf(tx, run.id));
    if (isStopped) return refuse('trial-stopped');
    if (!isThrough)
      return refuse('trial-unfinished', { field: 'outcome', figures: { step: next?.name ?? '' } });
  }
  await setClosed(tx, run.id, { by: actor.memberId, at: now, outcome, note });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'run-closed',
    subjectKind: 'run',
    subjectId: run.id,
    details: { outcome, kind: run.kind, memberId: run.memberId },
  });
  return run.id;
}
