import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { refusalUnless } from '../../members/permissions.js';
import { Refusal, refuse } from '../../reasons.js';
import { blankPhotograph, type Photograph } from './store.js';
import { visiblePhotograph } from './visible-photograph.js';

/** Takes a photograph away, picture and caption: who kept it may, and stewards. That there was one stays known. */
export async function removePhotograph(ctx: Ctx, photographId: string): Promise<Photograph | Refusal> {
  const { actor, now, tx } = ctx;
  const photograph = await visiblePhotograph(tx, actor, photographId);
  if (photograph instanceof Refusal) return photograph;
  const forbidden = refusalUnless(actor, 'photograph-remove', { ownerId: photograph.keptBy });
  if (forbidden !== undefined) return forbidden;
  if (!(await blankPhotograph(tx, photograph.id, { removedBy: actor.memberId, removedAt: now }))) {
    return refuse('not-found', { figures: { what: 'photograph' } });
  }
  const { plateId, bolsterId } = photograph;
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'photograph-removed',
    subjectKind: plateId === null ? 'bolster' : 'plate',
    subjectId: plateId ?? bolsterId ?? '',
    details: { photographId },
  });
  return photograph;
}
