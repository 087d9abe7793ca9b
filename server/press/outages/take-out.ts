import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { type Listeners, tell } from '../../listeners.js';
import { refusalUnless } from '../../members/permissions.js';
import { type Reason, Refusal, refuse } from '../../reasons.js';
import type { Span } from '../../shop/opening-hours.js';
import { rulesAt } from '../../shop/store.js';
import { momentText } from '../../words/en/times.js';
import { equipmentHeld, insertOutage, outagesIn } from './store.js';

export interface OutageWanted {
  readonly equipmentId: string;
  /** Null: from now on. */
  readonly startsAt: Date | null;
  readonly endsAt: Date;
  readonly reason: string;
}

const DAY_MS = 86_400_000;
const LONGEST_DAYS = 366;

/**
 * Takes a piece of equipment out of service for a time. What is free of it can no longer be booked; a booking that
 * stands in it keeps its time, and later rooms are told, in the same transaction, that it has lost the equipment.
 *
 * @returns the id, or every reason against it: no right, backwards or past times, one that stands already
 */
export async function takeOut(
  { actor, now, tx }: Ctx,
  wanted: OutageWanted,
  listeners: Pick<Listeners, 'outOfService' | 'serviceChanging'>,
): Promise<string | Refusal> {
  const forbidden = refusalUnless(actor, 'press-service', {});
  if (forbidden !== undefined) return forbidden;
  const { equipmentId, reason } = wanted;
  const span: Span = { startsAt: wanted.startsAt ?? now, endsAt: wanted.endsAt };
  const [wrong, ...more] = faultsOf(span, now);
  if (wrong !== undefined) return new Refusal([wrong, ...more]);
  await tell(listeners.serviceChanging, tx, { ...span, at: now });
  const piece = await equipmentHeld(tx, equipmentId);
  if (piece === undefined) return refuse('not-found', { figures: { what: 'equipment' } });
  const [standing] = await outagesIn(tx, [equipmentId], span);
  if (standing !== undefined) {
    const { timeZone } = await rulesAt(tx, now);
    const told = (instant: Date) => momentText(instant, timeZone);
    const figures = { what: piece.name, from: told(standing.startsAt), until: told(standing.endsAt) };
    return refuse('outage-overlaps', { field: 'startsAt', figures });
  }
  const id = await insertOutage(tx, { ...span, equipmentId, reason, madeBy: actor.memberId, createdAt: now });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'taken-out-of-service',
    subjectKind: 'equipment',
    subjectId: equipmentId,
    details: {
      what: piece.name,
      startsAt: span.startsAt.toISOString(),
      endsAt: span.endsAt.toISOString(),
      reason,
    },
  });
  await tell(listeners.outOfService, tx, { equipmentId, ...span, reason, at: now, actorId: actor.memberId });
  return id;
}

function faultsOf({ startsAt, endsAt }: Span, now: Date): readonly Reason[] {
  const reasons: Reason[] = [];
  if (startsAt >= endsAt) reasons.push({ code: 'outage-backwards', field: 'endsAt' });
  if (startsAt < now) reasons.push({ code: 'outage-in-the-past', field: 'startsAt' });
  if (endsAt.getTime() > now.getTime() + LONGEST_DAYS * DAY_MS) {
    reasons.push({ code: 'outage-too-far-ahead', field: 'endsAt', figures: { maxDays: LONGEST_DAYS } });
  }
  return reasons;
}
