import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { may } from '../members/permissions.js';
import { type Refusal, refuse } from '../reasons.js';
import { type Run, runById } from './store.js';

/** A run that the actor may see: who sees the whole of its booking. */
export async function visibleRun(db: Queryable, actor: Actor, runId: string): Promise<Run | Refusal> {
  const run = await runById(db, runId);
  if (run === undefined || !may(actor, 'booking-see-whole', { ownerId: run.memberId })) {
    return refuse('not-found', { figures: { what: 'run' } });
  }
  return run;
}
