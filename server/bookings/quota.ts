import type { Queryable } from '../database/queryable.js';
import type { Reason } from '../reasons.js';
import { dayOf, minutesOf, type Span, startOfDay } from '../shop/opening-hours.js';
import type { RulesInForce } from '../shop/rules.js';
import { minutesBooked } from './store.js';

/** Press time that a member holds, beside the booking that is asked about. */
export interface QuotaUse {
  /** Of bookings that start in the same calendar month. */
  readonly monthMinutes: number;
  /** Of bookings that are not over yet. */
  readonly aheadMinutes: number;
}

type Quotas = Pick<RulesInForce, 'timeZone' | 'quotaHoursAMonth' | 'quotaHoursAhead'>;

/** The calendar month, in the shop's own zone, that an instant falls in. */
function monthOf(instant: Date, timeZone: string): Span {
  const first = dayOf(instant, timeZone).with({ day: 1 });
  return { startsAt: startOfDay(first, timeZone), endsAt: startOfDay(first.add({ months: 1 }), timeZone) };
}

/**
 * What a member already holds of both quotas, where there are any. To decide by it, hold the member first: else two bookings at once
 * each find room that is there once.
 *
 * @param asked an instant in the month that counts
 * @param except a booking that does not count: the one that is moved
 */
export async function quotaUse(
  db: Queryable,
  memberId: string,
  { timeZone, quotaHoursAMonth, quotaHoursAhead }: Quotas,
  { asked, now, except }: { readonly asked: Date; readonly now: Date; readonly except: string | null },
): Promise<QuotaUse> {
  if (quotaHoursAMonth === null && quotaHoursAhead === null) return { monthMinutes: 0, aheadMinutes: 0 };
  return minutesBooked(db, memberId, { month: monthOf(asked, timeZone), now, except });
}

/** What speaks against a span by the quotas. */
export function reasonsByQuota(span: Span, use: QuotaUse, rules: Quotas): readonly Reason[] {
  const minutes = Math.max(0, minutesOf(span));
  const reasons: Reason[] = [];
  const ask = (code: 'quota-month-spent' | 'quota-ahead-spent', maxHours: number | null, used: number) => {
    if (maxHours === null || used + minutes <= maxHours * 60) return;
    const leftHours = Math.max(0, Math.floor((maxHours - used / 60) * 100) / 100);
    reasons.push({ code, field: 'endsAt', figures: { maxHours, leftHours } });
  };
  ask('quota-month-spent', rules.quotaHoursAMonth, use.monthMinutes);
  ask('quota-ahead-spent', rules.quotaHoursAhead, use.aheadMinutes);
  return reasons;
}

/** A member's quotas and what is used of them, this month and ahead; null where the shop rules know none. */
export async function ownQuota(db: Queryable, memberId: string, rules: Quotas, now: Date) {
  const { quotaHoursAMonth, quotaHoursAhead } = rules;
  if (quotaHoursAMonth === null && quotaHoursAhead === null) return null;
  const use = await quotaUse(db, memberId, rules, { asked: now, now, except: null });
  return {
    hoursAMonth: quotaHoursAMonth,
    hoursBooked: inHours(use.monthMinutes),
    hoursAhead: quotaHoursAhead,
    hoursComing: inHours(use.aheadMinutes),
  };
}

function inHours(minutes: number): number {
  return Math.round((minutes / 60) * 100) / 100;
}
