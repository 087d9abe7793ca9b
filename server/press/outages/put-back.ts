import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { type Listeners, tell } from '../../listeners.js';
import { refusalUnless } from '../../members/permissions.js';
import { type Refusal, refuse } from '../../reasons.js';
import { equipmentHeld, outageById, setOutageEnded } from './store.js';

/** Puts a piece of equipment back in service before its time out of it is over: what is left can be booked. */
export async function putBack(
  { actor, now, tx }: Ctx,
  outageId: string,
  listeners: Pick<Listeners, 'backInService' | 'serviceChanging'>,
): Promise<string | Refusal> {
  const forbidden = refusalUnless(actor, 'press-service', {});
  if (forbidden !== undefined) return forbidden;
  const found = await outageById(tx, outageId);
  if (found === undefined) return refuse('not-found', { figures: { what: 'time out of service' } });
  await tell(listeners.serviceChanging, tx, { startsAt: found.startsAt, endsAt: found.endsAt, at: now });
  await equipmentHeld(tx, found.equipmentId);
  const outage = await outageById(tx, outageId);
  if (outage === undefined || outage.endedAt !== null || outage.endsAt <= now) {
    return refuse('outage-already-over');
  }
  await setOutageEnded(tx, outageId, actor.memberId, now);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'put-back-in-service',
    subjectKind: 'equipment',
    subjectId: outage.equipmentId,
    details: { what: outage.equipment, reason: outage.reason },
  });
  const { equipmentId, startsAt, endsAt } = outage;
  const back = { equipmentId, startsAt, endsAt, at: now, actorId: actor.memberId };
  await tell(listeners.backInService, tx, back);
  return outageId;
}
