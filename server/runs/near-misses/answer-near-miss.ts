import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { stewardsNow } from '../../inductions/standing.js';
import { actorHeld } from '../../members/acted-on.js';
import { refusalUnless } from '../../members/permissions.js';
import { notify } from '../../notices/notify.js';
import { Refusal, refuse } from '../../reasons.js';
import { insertAnswer, nearMissById } from './store.js';

/** A steward says what was done about a near miss, once; who told of it reads that. */
export async function answerNearMiss(
  ctx: Ctx,
  { nearMissId, done }: { readonly nearMissId: string; readonly done: string },
): Promise<string | Refusal> {
  const { now, tx } = ctx;
  const actor = await actorHeld({ ...ctx, stewardsAt: stewardsNow });
  if (actor instanceof Refusal) return actor;
  const nearMiss = await nearMissById(tx, nearMissId);
  if (nearMiss === undefined) return refuse('not-found', { figures: { what: 'near miss' } });
  const seen = { by: 'near-miss-see', what: 'near miss' } as const;
  const forbidden = refusalUnless(actor, 'near-miss-answer', { ownerId: nearMiss.reportedBy }, seen);
  if (forbidden !== undefined) return forbidden;
  const answer = { by: actor.memberId, at: now, done };
  if (!(await insertAnswer(tx, nearMissId, answer))) return refuse('near-miss-answered');
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'near-miss-answered',
    subjectKind: 'near-miss',
    subjectId: nearMissId,
  });
  await notify(tx, {
    kind: 'near-miss-answered',
    memberIds: nearMiss.reportedBy === actor.memberId ? [] : [nearMiss.reportedBy],
    href: `/near-misses/${nearMissId}`,
    at: now,
  });
  return nearMissId;
}
