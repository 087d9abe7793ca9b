import { z } from 'zod';
import { text } from '../http/text.js';
import { SHOP_FORM_ERRORS as WRONG } from '../words/en/shop.js';
import type { ClosureWanted } from './close.js';
import { dayIn } from './day-in.js';
import { instantOfClockTime } from './opening-hours.js';

const day = z
  .string(WRONG.day)
  .trim()
  .refine((given) => dayIn(given) !== undefined, WRONG.day);
const clockTime = z
  .string(WRONG.time)
  .trim()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, WRONG.time);

/** A closure from one day's clock time to another's; ending at 00:00 is the start of that day. */
export const closureForm = z.object({
  fromDate: day,
  fromTime: clockTime,
  toDate: day,
  toTime: clockTime,
  note: z.string(WRONG.note).trim().min(1, WRONG.note).max(200, WRONG.note).pipe(text(200)),
});

/** The closure that a form says, or what is wrong with it in this time zone. */
export function closureOfForm(
  form: z.output<typeof closureForm>,
  timeZone: string,
): ClosureWanted | { readonly errors: { readonly [field: string]: string } } {
  const [fromDay, toDay] = [dayIn(form.fromDate), dayIn(form.toDate)];
  const startsAt = fromDay && instantOfClockTime(fromDay, form.fromTime, timeZone);
  const endsAt = toDay && instantOfClockTime(toDay, form.toTime, timeZone);
  if (startsAt !== undefined && endsAt !== undefined) return { startsAt, endsAt, note: form.note };
  return {
    errors: {
      ...(startsAt === undefined && { fromTime: WRONG.skipped }),
      ...(endsAt === undefined && { toTime: WRONG.skipped }),
    },
  };
}
