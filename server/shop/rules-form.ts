import { z } from 'zod';
import { quantity, wholeQuantity } from '../http/quantity.js';
import { text } from '../http/text.js';
import { SHOP_FORM_ERRORS as WRONG } from '../words/en/shop.js';
import { dayIn } from './day-in.js';
import { startOfDay } from './opening-hours.js';
import { isTimeZone, type ShopRules, WEEKDAYS } from './rules.js';
import { writtenDay, writtenHours } from './written-hours.js';

/** An empty cell means that there is no limit. */
const quota = z
  .literal('')
  .transform(() => null)
  .or(quantity(1, 744).refine((hours) => hours % 0.25 === 0, 'Give whole quarters of an hour.'));

const days = Object.fromEntries(WEEKDAYS.map((day) => [day, writtenDay])) as {
  readonly [day in (typeof WEEKDAYS)[number]]: typeof writtenDay;
};

/** All shop rules as the form sends them, with the day from which they hold. */
export const rulesForm = z.object({
  makerspaceName: z.string(WRONG.name).pipe(z.string().trim().min(1, WRONG.name)).pipe(text(60)),
  timeZone: z.string(WRONG.timeZone).trim().max(60).refine(isTimeZone, WRONG.timeZone),
  ...days,
  shortestStretchMinutes: wholeQuantity(1, 240),
  longestStretchMinutes: wholeQuantity(15, 1440),
  bookableDaysAhead: wholeQuantity(1, 366),
  slotStepMinutes: wholeQuantity(5, 60),
  quotaHoursAMonth: quota,
  quotaHoursAhead: quota,
  clampSafetyFactor: quantity(1, 3),
  handClearanceMm: quantity(0, 500),
  plateHolePositionMm: quantity(0, 1),
  roomC: quantity(0, 45),
  validFrom: z
    .string(WRONG.date)
    .trim()
    .refine((given) => given === '' || dayIn(given) !== undefined, WRONG.date)
    .default(''),
  validFromAt: z.iso
    .datetime()
    .transform((instant) => new Date(instant))
    .optional()
    .catch(undefined),
  carry: z.literal('on').optional().catch(undefined),
  basedOn: z.coerce.number().int().min(0).max(2_000_000_000).optional().catch(undefined),
});

export type RulesForm = z.output<typeof rulesForm>;

/** The rules that a form says, from the very instant of a later version where it names one; else its day begins on its own clock, in the time zone that it says. */
export function rulesOfForm(form: RulesForm): {
  readonly changes: ShopRules;
  readonly validFrom: Date | null;
} {
  const {
    validFrom,
    basedOn: _seen,
    carry: _carry,
    validFromAt,
    monday,
    tuesday,
    wednesday,
    thursday,
    friday,
    saturday,
    sunday,
    ...rest
  } = form;
  const day = dayIn(validFrom);
  return {
    changes: { ...rest, openingHours: { monday, tuesday, wednesday, thursday, friday, saturday, sunday } },
    validFrom: validFromAt ?? (day === undefined ? null : startOfDay(day, form.timeZone)),
  };
}

/** Rules as the fields of a form. */
export function fieldsOfRules(rules: ShopRules): { readonly [field: string]: string } {
  return {
    makerspaceName: rules.makerspaceName,
    timeZone: rules.timeZone,
    ...Object.fromEntries(WEEKDAYS.map((day) => [day, writtenHours(rules.openingHours[day])])),
    shortestStretchMinutes: String(rules.shortestStretchMinutes),
    longestStretchMinutes: String(rules.longestStretchMinutes),
    bookableDaysAhead: String(rules.bookableDaysAhead),
    slotStepMinutes: String(rules.slotStepMinutes),
    quotaHoursAMonth: String(rules.quotaHoursAMonth ?? ''),
    quotaHoursAhead: String(rules.quotaHoursAhead ?? ''),
    clampSafetyFactor: String(rules.clampSafetyFactor),
    handClearanceMm: String(rules.handClearanceMm),
    plateHolePositionMm: String(rules.plateHolePositionMm),
    roomC: String(rules.roomC),
    validFrom: '',
  };
}
