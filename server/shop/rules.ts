import { z } from 'zod';

const clockTime = z
  .string()
  .regex(/^(?:[01]\d|2[0-3]):[0-5]\d$|^24:00$/, 'A time of day from 00:00 to 24:00.')
  .meta({ description: 'Time of day in the shop’s own zone, 00:00 to 24:00.' });

const openSpan = z
  .strictObject({ opens: clockTime, closes: clockTime })
  .refine((span) => span.opens < span.closes, 'Opening comes before closing.');

const openDay = z
  .array(openSpan)
  .max(6)
  .refine(
    (spans) => spans.every((span, i) => i === 0 || (spans[i - 1]?.closes ?? '') <= span.opens),
    'Spans of a day stand in order and do not overlap.',
  );

export const WEEKDAYS = [
  'monday',
  'tuesday',
  'wednesday',
  'thursday',
  'friday',
  'saturday',
  'sunday',
] as const;

/** True for a time zone this machine's zone data knows, such as `Europe/Dublin`. */
export function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

const week = z.strictObject({
  monday: openDay,
  tuesday: openDay,
  wednesday: openDay,
  thursday: openDay,
  friday: openDay,
  saturday: openDay,
  sunday: openDay,
});

const hours = (most: number) =>
  z.number().min(1).max(most).multipleOf(0.25, 'Whole quarters of an hour.').nullable();

/** Every limit of the workshop, with the bounds inside which a number is not absurd. */
export const ruleFields = z.object({
  makerspaceName: z.string().trim().min(1).max(60),
  timeZone: z.string().max(60).refine(isTimeZone, 'A time zone of the IANA list, such as Europe/Dublin.'),
  openingHours: week.meta({ description: 'A day without spans is closed.' }),
  shortestStretchMinutes: z.int().min(1).max(240),
  longestStretchMinutes: z.int().min(15).max(1440),
  bookableDaysAhead: z.int().min(1).max(366),
  slotStepMinutes: z
    .int()
    .min(5)
    .max(60)
    .meta({ description: 'Bookings start and end on multiples of this past the full hour.' }),
  quotaHoursAMonth: hours(744).meta({
    description: 'Press time of one member that starts in one calendar month; null: no limit.',
  }),
  quotaHoursAhead: hours(744).meta({
    description: 'Press time of one member that is still to come, at any one moment; null: no limit.',
  }),
  clampSafetyFactor: z.number().min(1).max(3),
  handClearanceMm: z.number().min(0).max(500),
  plateHolePositionMm: z
    .number()
    .min(0)
    .max(1)
    .meta({ description: 'Position tolerance of a plate’s holes as a radius, unless stated.' }),
  roomC: z.number().min(0).max(45).meta({ description: 'Temperature of the room round the press, °C.' }),
});

const SHORTEST_STRETCH_MINUTES = 15;

/** An ordinary heated workshop; common practice, no source. */
const ROOM_C = 20;

/**
 * The workshop's own limits, as one version of them stands in `shop_rule.rules`; early ones knew neither quotas nor
 * a shortest stretch, nor how warm the room is.
 */
export const shopRules = ruleFields.extend({
  shortestStretchMinutes: ruleFields.shape.shortestStretchMinutes.default(SHORTEST_STRETCH_MINUTES),
  quotaHoursAMonth: ruleFields.shape.quotaHoursAMonth.default(null),
  quotaHoursAhead: ruleFields.shape.quotaHoursAhead.default(null),
  roomC: ruleFields.shape.roomC.default(ROOM_C),
});

export type ShopRules = z.infer<typeof shopRules>;

/** Rules with the version they came from, which reports and bookings keep. */
export type RulesInForce = ShopRules & { readonly version: number };

/**
 * What a new makerspace begins with. The clamp safety factor, hand clearance and hole position are
 * common practice, no source.
 */
export const FIRST_LIMITS = {
  shortestStretchMinutes: SHORTEST_STRETCH_MINUTES,
  longestStretchMinutes: 480,
  bookableDaysAhead: 28,
  slotStepMinutes: 15,
  quotaHoursAMonth: null,
  quotaHoursAhead: null,
  clampSafetyFactor: 1.2,
  handClearanceMm: 60,
  plateHolePositionMm: 0.05,
  roomC: ROOM_C,
} as const satisfies Partial<ShopRules>;

/** Every rule by its name, in the order of the sheet. */
export const RULE_NAMES = Object.keys(ruleFields.shape) as readonly (keyof ShopRules)[];
