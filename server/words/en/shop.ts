import type { ShopRules } from '../../shop/rules.js';

/** Offered where a version that was set before takes over later. */
export const CARRY = {
  id: 'carry',
  name: 'carry',
  value: 'on',
  text: 'Then look at the same change for the version that takes over',
  more: 'You see what it does there before it is kept.',
  checked: true,
} as const;

export const EARLIER_KEPT = {
  word: 'kept',
  text: 'The change is kept until the next version takes over. This is the same change in that version: keep it too, or leave it.',
} as const;

/** `holds 30 h in 2026-12, of 20 h`. */
export function aboveQuotaText({
  month,
  hours,
  limitHours,
}: {
  readonly month: string | null;
  readonly hours: number;
  readonly limitHours: number;
}): string {
  const held = Math.round(hours * 100) / 100;
  return month === null
    ? `holds ${held} h still to come, of ${limitHours} h`
    : `holds ${held} h in ${monthText(month)}, of ${limitHours} h`;
}

function monthText(month: string): string {
  return new Intl.DateTimeFormat('en-GB', { month: 'long', year: 'numeric', timeZone: 'UTC' }).format(
    new Date(`${month}-01T00:00:00Z`),
  );
}

/** A rule as a line of the sheet and a cell of the form. */
export interface RuleWords {
  readonly label: string;
  readonly unit?: string;
  readonly hint?: string;
}

/** What each rule is called, in the order of the sheet. */
export const RULE_WORDS: { readonly [name in keyof ShopRules]: RuleWords } = {
  makerspaceName: { label: 'Name' },
  timeZone: { label: 'Time zone', hint: 'Such as Europe/Dublin' },
  openingHours: { label: 'Opening hours' },
  shortestStretchMinutes: { label: 'Shortest booking', unit: 'min' },
  longestStretchMinutes: { label: 'Longest booking', unit: 'min' },
  bookableDaysAhead: { label: 'Bookable ahead', unit: 'days' },
  slotStepMinutes: { label: 'Bookings start and end every', unit: 'min' },
  quotaHoursAMonth: { label: 'A member’s hours in a month', unit: 'h', hint: 'Empty: no limit' },
  quotaHoursAhead: { label: 'A member’s hours still to come', unit: 'h', hint: 'Empty: no limit' },
  clampSafetyFactor: { label: 'Safety factor on the clamp force' },
  handClearanceMm: { label: 'Clearance for a hand in the open press', unit: 'mm' },
  plateHolePositionMm: { label: 'Position of a plate’s holes, as a radius', unit: 'mm' },
  roomC: { label: 'The room round the press', unit: '°C' },
};

export const DAY_WORDS = {
  monday: 'Monday',
  tuesday: 'Tuesday',
  wednesday: 'Wednesday',
  thursday: 'Thursday',
  friday: 'Friday',
  saturday: 'Saturday',
  sunday: 'Sunday',
} as const satisfies { readonly [day in keyof ShopRules['openingHours']]: string };

export const NO_LIMIT = 'no limit';
export const CLOSED = 'closed';

/** What is wrong with a field of the forms of this room. */
export const SHOP_FORM_ERRORS = {
  name: 'Give the name of the makerspace.',
  timeZone: 'Give a name such as Europe/Dublin.',
  date: 'Give the day as year, month and day, for instance 2026-11-26; empty means from now on.',
  day: 'Give the day as year, month and day, for instance 2026-11-26.',
  time: 'Give a time of day, for instance 14:00.',
  skipped: 'The clocks go forward that night: this time does not come that day.',
  note: 'Say why, in at most 200 characters.',
} as const;

/** What the page tells once it has been done. */
export const JUST_DONE = [
  {
    what: 'set',
    word: 'kept',
    text: 'The new version of the shop rules is kept; who had to be told has been told.',
  },
  { what: 'closed', word: 'closed', text: 'Nothing can be booked for that time.' },
  { what: 'lifted', word: 'lifted', text: 'The time can be booked again.' },
] as const;

/** "3 bookings no longer fit", for a heading. */
export function bookingsAffected(count: number): string {
  if (count === 0) return 'No booking is touched';
  return count === 1 ? '1 booking no longer fits' : `${count} bookings no longer fit`;
}

export function platesAffected(count: number): string {
  if (count === 0) return 'No verdict changes';
  return count === 1 ? '1 plate gets another verdict' : `${count} plates get another verdict`;
}

/** Of a plate that there was no time or no way to look at. */
export const NOT_LOOKED_AT = 'not looked at; its bookings will need attention';
