import { Temporal } from 'temporal-polyfill';
import type { TimeDay, TimeLane, TimeSpan } from '../pictures/time-line.js';
import { dayOf, type OpeningHours, openSpansOf, type Span, startOfDay } from '../shop/opening-hours.js';
import { clockText, dayText } from '../words/en/times.js';
import { bookOn, holdLabel, holdWords, WEEK_WORDS } from '../words/en/week.js';
import type { WeekHold } from './store.js';

export const DAYS_SHOWN = 7;

/** One day of the week: as it is drawn, and the same as rows of a table. */
export interface WeekDay {
  readonly day: Temporal.PlainDate;
  readonly picture: TimeDay;
  readonly rows: readonly WeekRow[];
  /** Where this day is booked; not on a day that is closed or over. */
  readonly book?: { readonly href: string; readonly text: string };
}

export interface WeekRow {
  readonly time: string;
  readonly equipment: string;
  readonly who: string;
  readonly more: string;
  readonly href?: string;
  readonly own: boolean;
}

/** What the week is drawn from. `memberId` is null for who is not signed in. */
export interface WeekGiven {
  readonly from: Temporal.PlainDate;
  /** In force now. */
  readonly hours: OpeningHours;
  /** Later hours with the instant from which they hold, in that order. */
  readonly coming: readonly { readonly validFrom: Date; readonly rules: OpeningHours }[];
  readonly holds: readonly WeekHold[];
  readonly memberId: string | null;
  /** Equipment that there is; other lanes are not drawn. */
  readonly kinds: readonly WeekHold['kind'][];
  /** True for who may see what others' bookings are for. */
  readonly seesAll: boolean;
  readonly now: Date;
}

/** Seven days from `from` on, each with its lanes and its rows. */
export function weekDays(given: WeekGiven): readonly WeekDay[] {
  return Array.from({ length: DAYS_SHOWN }, (_, i) => oneDay(given, given.from.add({ days: i })));
}

/** The stretch of clock that a picture of these days shows: an hour around all that is open or held. */
export function shownMinutes(days: readonly WeekDay[]): { fromMinute: number; toMinute: number } {
  const spans = days.flatMap(({ picture }) => [
    ...(picture.open ?? []),
    ...picture.lanes.flatMap(({ spans: held }) => held.filter(({ kind }) => kind !== 'closed')),
  ]);
  if (spans.length === 0) return { fromMinute: 8 * 60, toMinute: 20 * 60 };
  const first = Math.min(...spans.map(({ startMinute }) => startMinute));
  const last = Math.max(...spans.map(({ endMinute }) => endMinute));
  return {
    fromMinute: Math.max(0, Math.floor(first / 60) - 1) * 60,
    toMinute: Math.min(24, Math.ceil(last / 60) + 1) * 60,
  };
}

function oneDay(given: WeekGiven, day: Temporal.PlainDate): WeekDay {
  const { timeZone } = given.hours;
  const whole: Span = {
    startsAt: startOfDay(day, timeZone),
    endsAt: startOfDay(day.add({ days: 1 }), timeZone),
  };
  const holds = given.holds.filter((hold) => hold.startsAt < whole.endsAt && hold.endsAt > whole.startsAt);
  const opened = openSpansOf(day, hoursOn(day, given)).map((span) => minutesOn(day, span, timeZone));
  const isClosed = opened.length === 0 && holds.length === 0;
  const closure = holds.find(({ purpose }) => purpose === 'closure');
  const isToday = Temporal.PlainDate.compare(day, dayOf(given.now, timeZone)) === 0;
  const isShut = isClosed || (closure !== undefined && coversAll(closure, opened, day, timeZone));
  const name = dayText(whole.startsAt, timeZone);
  return {
    day,
    ...(!isShut &&
      whole.endsAt > given.now && { book: { href: `/bookings/new?date=${day}`, text: bookOn(name) } }),
    picture: {
      name,
      ...(isToday && { note: WEEK_WORDS.today, nowMinute: minuteOn(day, given.now, timeZone) }),
      open: isShut ? null : opened,
      closedWords: closure === undefined ? WEEK_WORDS.closed : holdWords(closure),
      lanes: lanesOf(given, day, holds),
    },
    rows: holds.map((hold) => rowOf(given, hold)),
  };
}

const LANES = [
  { kind: 'press', lane: WEEK_WORDS.press, heightPx: 34 },
  { kind: 'oven-tray', lane: WEEK_WORDS.oven, heightPx: 16 },
  { kind: 'granulator', lane: WEEK_WORDS.granulator, shortName: WEEK_WORDS.granulatorShort, heightPx: 14 },
] as const;

function lanesOf(given: WeekGiven, day: Temporal.PlainDate, holds: readonly WeekHold[]): readonly TimeLane[] {
  return LANES.filter(({ kind }) => given.kinds.includes(kind)).map(({ kind, ...lane }) => ({
    ...lane,
    spans: holds.filter((hold) => hold.kind === kind).map((hold) => spanOf(given, day, hold)),
  }));
}

/** The opening hours that hold when a day begins; of today, those in force now. */
function hoursOn(day: Temporal.PlainDate, { hours, coming }: WeekGiven): OpeningHours {
  const begins = startOfDay(day, hours.timeZone);
  return coming.findLast(({ validFrom }) => validFrom <= begins)?.rules ?? hours;
}

function spanOf({ hours, memberId }: WeekGiven, day: Temporal.PlainDate, hold: WeekHold): TimeSpan {
  const own = memberId !== null && hold.memberId === memberId;
  const shortLabel = own && hold.purpose === 'booking' ? { shortLabel: WEEK_WORDS.you } : {};
  const kind = kindOf(hold, own);
  return { ...minutesOn(day, hold, hours.timeZone), kind, label: holdLabel(hold, own), ...shortLabel };
}

function kindOf({ purpose }: WeekHold, own: boolean): TimeSpan['kind'] {
  if (purpose === 'booking') return own ? 'own' : 'other';
  return purpose === 'closure' ? 'closed' : 'out-of-service';
}

function rowOf({ hours: { timeZone }, memberId, seesAll }: WeekGiven, hold: WeekHold): WeekRow {
  const own = memberId !== null && hold.memberId === memberId;
  return {
    time: `${clockText(hold.startsAt, timeZone)} to ${clockText(hold.endsAt, timeZone)}`,
    equipment: hold.equipment,
    who: holdLabel(hold, own),
    more: holdWords(hold),
    ...((own || seesAll) && hold.bookingId !== null && { href: `/bookings/${hold.bookingId}` }),
    own,
  };
}

function coversAll(
  closure: Span,
  opened: readonly { startMinute: number; endMinute: number }[],
  day: Temporal.PlainDate,
  timeZone: string,
): boolean {
  const { startMinute, endMinute } = minutesOn(day, closure, timeZone);
  return opened.every((span) => startMinute <= span.startMinute && span.endMinute <= endMinute);
}

/** A span on the wall clock of a day, cut off at its midnights. */
function minutesOn(day: Temporal.PlainDate, span: Span, timeZone: string) {
  return {
    startMinute: minuteOn(day, span.startsAt, timeZone),
    endMinute: minuteOn(day, span.endsAt, timeZone),
  };
}

/** Minutes past midnight that the wall clock shows at an instant; 0 before the day, 1440 after it. */
function minuteOn(day: Temporal.PlainDate, instant: Date, timeZone: string): number {
  const wall = Temporal.Instant.fromEpochMilliseconds(instant.getTime()).toZonedDateTimeISO(timeZone);
  const compared = Temporal.PlainDate.compare(wall.toPlainDate(), day);
  if (compared !== 0) return compared < 0 ? 0 : 1440;
  return wall.hour * 60 + wall.minute;
}
