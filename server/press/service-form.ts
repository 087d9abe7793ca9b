import { z } from 'zod';
import type { FieldErrors } from '../http/form.js';
import { id } from '../http/id.js';
import { wholeQuantity } from '../http/quantity.js';
import { text } from '../http/text.js';
import { dayIn } from '../shop/day-in.js';
import { instantOfClockTime } from '../shop/opening-hours.js';
import { PRESS_FORM_ERRORS as WRONG } from '../words/en/bolster-form.js';
import type { OutageWanted } from './outages/take-out.js';

const day = z
  .string(WRONG.day)
  .trim()
  .refine((given) => dayIn(given) !== undefined, WRONG.day);
const clockTime = z
  .string(WRONG.time)
  .trim()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, WRONG.time);
const words = (max: number, message: string) =>
  z.string(message).trim().min(1, message).max(max, message).pipe(text(max));

/** A time out of service; without a beginning it is from now on. */
export const outageForm = z
  .object({
    equipmentId: z.string(WRONG.choose).pipe(id),
    fromDate: day.or(z.literal('')).default(''),
    fromTime: clockTime.or(z.literal('')).default(''),
    toDate: day,
    toTime: clockTime,
    reason: words(200, WRONG.reason),
  })
  .superRefine(({ fromDate, fromTime }, context) => {
    if ((fromDate === '') === (fromTime === '')) return;
    const path = [fromDate === '' ? 'fromDate' : 'fromTime'];
    context.addIssue({ code: 'custom', path, message: WRONG.both });
  });

/** The time out of service that a form says, or what is wrong with it in this time zone. */
export function outageOfForm(
  { equipmentId, reason, ...form }: z.output<typeof outageForm>,
  timeZone: string,
): OutageWanted | { readonly errors: FieldErrors } {
  const instant = (date: string, time: string) => {
    const given = dayIn(date);
    return given && instantOfClockTime(given, time, timeZone);
  };
  const endsAt = instant(form.toDate, form.toTime);
  const fromNow = form.fromDate === '';
  const startsAt = fromNow ? null : instant(form.fromDate, form.fromTime);
  if (endsAt === undefined) return { errors: { toTime: WRONG.skipped } };
  if (startsAt === undefined) return { errors: { fromTime: WRONG.skipped } };
  return { equipmentId, startsAt, endsAt, reason };
}

export const inspectionForm = z.object({
  inspectedOn: day,
  inspectedBy: words(100, WRONG.inspectedBy),
  intervalMonths: wholeQuantity(1, 60),
  note: words(500, WRONG.note),
});
