import { z } from 'zod';
import { id } from '../http/id.js';
import { text } from '../http/text.js';
import { type Reason, Refusal } from '../reasons.js';
import { dayIn } from '../shop/day-in.js';
import { instantOfClockTime, type Span } from '../shop/opening-hours.js';
import { BOOKING_FORM_ERRORS as WRONG } from '../words/en/bookings.js';

const clockTime = z
  .string(WRONG.time)
  .trim()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, WRONG.time);

/** A stretch of one day, as a form gives it; a booking that ends at midnight ends at 00:00. */
const stretch = {
  date: z
    .string(WRONG.date)
    .trim()
    .refine((given) => dayIn(given) !== undefined, WRONG.date),
  from: clockTime,
  to: clockTime,
};

export const bookingForm = z.object({
  ...stretch,
  bookingKind: z.enum(['production', 'trial']).default('production'),
  granulate: z
    .enum(['', 'on'])
    .default('')
    .transform((given) => given === 'on'),
  plateId: z.string(WRONG.plateId).refine((given) => id.safeParse(given).success, WRONG.plateId),
  polymer: z.string(WRONG.polymer).min(1, WRONG.polymer).max(20, WRONG.polymer),
  shots: z
    .string()
    .trim()
    .regex(/^([1-9]\d{0,4})?$/, WRONG.shots)
    .transform((given) => (given === '' ? null : Number(given)))
    .default(null),
});

/** An instant as a hidden field carries it. */
const carriedInstant = z
  .string(WRONG.seen)
  .pipe(z.iso.datetime(WRONG.seen))
  .transform((given) => new Date(given));

export const moveForm = z.object({ ...stretch, seenStartsAt: carriedInstant, seenEndsAt: carriedInstant });

export const cancelForm = z.object({
  reason: z
    .literal('')
    .transform(() => null)
    .or(text(500))
    .optional()
    .transform((given) => given ?? null),
});

/** The span of a form's day and clock times, or what is wrong with them in this time zone. */
export function spanOfForm(
  form: { readonly date: string; readonly from: string; readonly to: string },
  timeZone: string,
): Span | { readonly errors: { readonly [field: string]: string } } {
  const day = dayIn(form.date);
  if (day === undefined) return { errors: { date: WRONG.date } };
  const startsAt = instantOfClockTime(day, form.from, timeZone);
  const endsAt = instantOfClockTime(day, form.to === '00:00' ? '24:00' : form.to, timeZone);
  if (startsAt !== undefined && endsAt !== undefined) {
    return startsAt < endsAt ? { startsAt, endsAt } : { errors: { to: WRONG.withinOneDay } };
  }
  return {
    errors: {
      ...(startsAt === undefined && { from: WRONG.skipped }),
      ...(endsAt === undefined && { to: WRONG.skipped }),
    },
  };
}

/** Where a reason's field of the API stands on the form. */
const FORM_FIELD: { readonly [field: string]: string } = {
  startsAt: 'from',
  endsAt: 'to',
  revision: 'plateId',
};

/** A refusal whose fields are those of the form. */
export function refusalOnForm({ reasons: [first, ...others] }: Refusal): Refusal {
  return new Refusal([onForm(first), ...others.map(onForm)]);
}

function onForm(reason: Reason): Reason {
  const field = reason.field === undefined ? undefined : (FORM_FIELD[reason.field] ?? reason.field);
  return { ...reason, ...(field !== undefined && { field }) };
}
