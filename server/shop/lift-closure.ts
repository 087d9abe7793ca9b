import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { type Refusal, refuse } from '../reasons.js';
import { closureById, equipmentHeld, setLifted } from './closure-store.js';

/** Lifts a closure that is not over: from now on its time can be booked. */
export async function liftClosure({ actor, now, tx }: Ctx, closureId: string): Promise<string | Refusal> {
  const forbidden = refusalUnless(actor, 'shop-rules-edit', {});
  if (forbidden !== undefined) return forbidden;
  await equipmentHeld(tx);
  const closure = await closureById(tx, closureId);
  if (closure === undefined) return refuse('not-found', { figures: { what: 'closure' } });
  if (closure.liftedAt !== null || closure.endsAt <= now) return refuse('closure-already-over');
  await setLifted(tx, closure.id, actor.memberId, now);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'closure-lifted',
    subjectKind: 'closure',
    subjectId: closure.id,
    details: {
      startsAt: closure.startsAt.toISOString(),
      endsAt: closure.endsAt.toISOString(),
      note: closure.note,
    },
  });
  return closure.id;
}
