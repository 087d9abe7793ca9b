import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { type Listeners, tell } from '../listeners.js';
import { membersHeld } from '../members/store.js';
import { notify } from '../notices/notify.js';
import { Refusal, refuse } from '../reasons.js';
import { clearancesOf } from './clearance/store.js';
import { plateActedOn } from './plate-acted-on.js';
import { setOwner } from './store.js';

/**
 * Gives a plate to another member: its owner may at any time, a steward once the owner has left. What the owner lets
 * others do with it stands, also after they have left, until somebody owns it who can change that.
 *
 * Not to who decided about the clearance of its latest revision: that would be clearing a plate of one's own.
 */
export async function handOverPlate(
  ctx: Ctx,
  given: { readonly plateId: string; readonly memberId: string },
  listeners: Pick<Listeners, 'sharingChanged'>,
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const plate = await plateActedOn(ctx, 'plate-hand-over', given.plateId);
  if (plate instanceof Refusal) return plate;
  if (plate.ownerId !== actor.memberId && !plate.ownerLeft) return refuse('plate-has-owner');
  const [to] = await membersHeld(tx, [given.memberId]);
  if (to === undefined || to.state !== 'active' || to.id === plate.ownerId) {
    return refuse('new-owner-unknown', { field: 'memberId' });
  }
  const decisions = await clearancesOf(tx, plate.id, plate.latestRevision);
  if (decisions.some(({ decidedBy, decision }) => decidedBy === to.id && decision === 'clear')) {
    return refuse('new-owner-decided', { field: 'memberId' });
  }
  await setOwner(tx, plate.id, to.id);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'plate-handed-over',
    subjectKind: 'plate',
    subjectId: plate.id,
    details: { memberId: to.id },
  });
  if (to.id !== actor.memberId) {
    const href = `/plates/${plate.id}`;
    await notify(tx, {
      memberIds: [to.id],
      kind: 'plate-handed-over',
      aboutId: actor.memberId,
      figures: { plate: plate.name },
      href,
      at: now,
    });
  }
  const { sharing } = plate;
  await tell(listeners.sharingChanged, tx, { plateId: plate.id, sharing, at: now, actorId: actor.memberId });
  return plate.id;
}
