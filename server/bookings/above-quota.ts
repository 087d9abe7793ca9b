import type { Queryable } from '../database/queryable.js';
import type { AboveQuota } from '../shop/above-quota.js';
import { dayOf, minutesOf } from '../shop/opening-hours.js';
import type { ShopRules } from '../shop/rules.js';
import { bookingsFrom } from './store.js';

/**
 * Members who hold more press time from an instant on than quotas would give them. They keep it: a quota is asked
 * when something is booked. Months are those of the rules' own calendar.
 */
export async function membersAboveQuota(
  db: Queryable,
  rules: Pick<ShopRules, 'timeZone' | 'quotaHoursAMonth' | 'quotaHoursAhead'>,
  from: Date,
): Promise<readonly AboveQuota[]> {
  const held = new Map<string, { readonly memberId: string; readonly displayName: string; hours: number }>();
  for (const { memberId, displayName, ...span } of await bookingsFrom(db, from)) {
    const months = span.startsAt >= from ? [dayOf(span.startsAt, rules.timeZone).toString().slice(0, 7)] : [];
    for (const which of ['ahead', ...months]) {
      const key = `${which} ${memberId}`;
      const hours = (held.get(key)?.hours ?? 0) + minutesOf(span) / 60;
      held.set(key, { memberId, displayName, hours });
    }
  }
  return [...held].flatMap(([key, { hours, ...who }]) => {
    const month = key.startsWith('ahead') ? null : key.slice(0, 7);
    const limitHours = month === null ? rules.quotaHoursAhead : rules.quotaHoursAMonth;
    return limitHours === null || hours <= limitHours ? [] : [{ ...who, month, hours, limitHours }];
  });
}
