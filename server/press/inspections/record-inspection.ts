import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { refusalUnless } from '../../members/permissions.js';
import { type Refusal, refuse } from '../../reasons.js';
import { dayIn } from '../../shop/day-in.js';
import { dayOf, startOfDay } from '../../shop/opening-hours.js';
import { rulesAt } from '../../shop/store.js';
import { thePress } from '../store.js';
import { insertInspection } from './store.js';

export interface InspectionRecorded {
  /** Calendar day, `2026-11-25`. */
  readonly inspectedOn: string;
  /** Who inspected it: a person or a firm, by name. */
  readonly inspectedBy: string;
  readonly intervalMonths: number;
  readonly note: string;
}

/**
 * Records an inspection of the press; the next is due that many months after it, at the end of that day. What was
 * recorded stays: one that was wrong is recorded anew.
 *
 * @returns its id, or why not: no right, no such day, a day that is still to come
 */
export async function recordInspection(
  { actor, now, tx }: Ctx,
  { inspectedOn, inspectedBy, intervalMonths, note }: InspectionRecorded,
): Promise<string | Refusal> {
  const forbidden = refusalUnless(actor, 'press-edit', {});
  if (forbidden !== undefined) return forbidden;
  const press = await thePress(tx);
  if (press === undefined) return refuse('not-found', { figures: { what: 'press' } });
  const { timeZone } = await rulesAt(tx, now);
  const day = dayIn(inspectedOn);
  const today = dayOf(now, timeZone);
  if (day === undefined || day.until(today).days < 0) {
    return refuse('inspection-not-yet', { field: 'inspectedOn' });
  }
  const dueAt = startOfDay(day.add({ months: intervalMonths }).add({ days: 1 }), timeZone);
  const recorded = { pressId: press.id, inspectedOn, inspectedBy, intervalMonths, dueAt, note };
  const id = await insertInspection(tx, { ...recorded, recordedBy: actor.memberId, recordedAt: now });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'inspection-recorded',
    subjectKind: 'press',
    subjectId: press.id,
    details: { inspectedOn, dueAt: dueAt.toISOString() },
  });
  return id;
}
