import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { type Refusal, refuse } from '../reasons.js';
import { type Run, runById, runHeld } from './store.js';

/** A run that is open and that the actor may change, held until the transaction ends. */
export async function runToChange({ actor, tx }: Ctx, runId: string): Promise<Run | Refusal> {
  await runHeld(tx, runId);
  const run = await runById(tx, runId);
  const nothing = refuse('not-found', { figures: { what: 'run' } });
  if (run === undefined) return nothing;
  const seen = { by: 'booking-see-whole', what: 'run' } as const;
  const forbidden = refusalUnless(actor, 'booking-run', { ownerId: run.memberId }, seen);
  if (forbidden !== undefined) return forbidden;
  return run.closedAt === null ? run : refuse('run-closed');
}
