import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { stewardsNow } from '../../inductions/standing.js';
import { actorHeld } from '../../members/acted-on.js';
import { refusalUnless } from '../../members/permissions.js';
import { notify } from '../../notices/notify.js';
import { Refusal, refuse } from '../../reasons.js';
import { insertClosing } from './store.js';
import { visibleDamage } from './visible-damage.js';

/** A steward says what was done about damage, once; who reported it reads that. */
export async function closeDamage(
  ctx: Ctx,
  { damageId, done }: { readonly damageId: string; readonly done: string },
): Promise<string | Refusal> {
  const { now, tx } = ctx;
  const actor = await actorHeld({ ...ctx, stewardsAt: stewardsNow });
  if (actor instanceof Refusal) return actor;
  const damage = await visibleDamage(tx, actor, damageId);
  if (damage instanceof Refusal) return damage;
  const forbidden = refusalUnless(actor, 'damage-close', {});
  if (forbidden !== undefined) return forbidden;
  if (!(await insertClosing(tx, damageId, { by: actor.memberId, at: now, done }))) {
    return refuse('damage-closed');
  }
  const subject =
    damage.plateId === null
      ? { subjectKind: 'bolster', subjectId: damage.bolsterId ?? '' }
      : { subjectKind: 'plate', subjectId: damage.plateId };
  const name = damage.bolsterName ?? damage.plateName ?? '';
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'damage-closed',
    ...subject,
    details: { damageId, ...(damage.bolsterName !== null && { name }) },
  });
  await notify(tx, {
    kind: 'damage-closed',
    memberIds: damage.reportedBy === actor.memberId ? [] : [damage.reportedBy],
    figures: { name },
    href: `/damage/${damageId}`,
    at: now,
  });
  return damageId;
}
