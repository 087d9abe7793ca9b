import { z } from 'zod';
import { text } from '../../http/text.js';
import { dayIn } from '../../shop/day-in.js';
import { instantOfClockTime } from '../../shop/opening-hours.js';
import { NEAR_MISS_ERRORS as ERRORS } from '../../words/en/near-misses.js';
import { HURT } from './store.js';

/** The form that tells of a near miss, as a browser sends it. */
export const nearMissForm = z.object({
  place: text(100),
  what: text(2000),
  hurt: z.enum(HURT, ERRORS.hurt),
  date: z
    .string(ERRORS.date)
    .trim()
    .refine((given) => dayIn(given) !== undefined, ERRORS.date),
  time: z
    .string(ERRORS.time)
    .trim()
    .regex(/^([01]\d|2[0-3]):[0-5]\d$/, ERRORS.time),
});

export const answerForm = z.object({ done: text(2000) });

/** The instant of a form's day and time; undefined where the clocks skip it. */
export function instantOfForm(
  { date, time }: { readonly date: string; readonly time: string },
  timeZone: string,
): Date | undefined {
  const day = dayIn(date);
  return day && instantOfClockTime(day, time, timeZone);
}
