import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { Refusal, refuse } from '../reasons.js';
import { GOOD_OUTCOMES, isOutcomeOf, type Outcome } from './outcomes.js';
import { runToChange } from './run-to-change.js';
import { setClosed, stepsOf } from './store.js';
import { badSigns } from './trial/observations.js';
import { whereIn } from './trial/where.js';

export interface ClosingWanted {
  readonly runId: string;
  readonly outcome: Outcome;
  readonly note: string | null;
}

/** A plate runs well by what was last seen of flash and of its parts coming off. */
const LAST_WORDS: readonly ((step: string) => boolean)[] = [
  (step) => step === 'flash-check' || step.startsWith('clamp-force'),
  (step) => step === 'part-release',
];

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
    const kept = await stepsOf(tx, run.id);
    const { isThrough, isStopped, next } = whereIn(run.trialPlan, kept);
    if (isStopped) return refuse('trial-stopped');
    if (!isThrough)
      return refuse('trial-unfinished', { field: 'outcome', figures: { step: next?.name ?? '' } });
    const bad = LAST_WORDS.flatMap((names) => badSigns(kept.findLast(({ step }) => names(step))?.seen ?? []));
    if (bad.length > 0)
      return refuse('trial-ended-badly', { field: 'outcome', figures: { signs: bad.join(', ') } });
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
