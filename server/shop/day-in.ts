import { Temporal } from 'temporal-polyfill';

/** A calendar day written as year-month-day; anything else is none. */
export function dayIn(text: unknown): Temporal.PlainDate | undefined {
  if (typeof text !== 'string' || !/^\d{4}-\d{2}-\d{2}$/.test(text)) return undefined;
  const [year = 0, month = 0, day = 0] = text.split('-').map(Number);
  const date = Temporal.PlainDate.from({ year, month: Math.max(1, month), day: Math.max(1, day) });
  return date.toString() === text && year >= 1970 && year < 9000 ? date : undefined;
}
