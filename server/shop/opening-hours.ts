import { Temporal } from 'temporal-polyfill';
import { type ShopRules, WEEKDAYS } from './rules.js';

/** What decides when the doors are open: the shop's zone and its week. */
export type OpeningHours = Pick<ShopRules, 'timeZone' | 'openingHours'>;

/** A stretch of time, start included, end not. */
export interface Span {
  readonly startsAt: Date;
  readonly endsAt: Date;
}

const MINUTE_MS = 60_000;

/** The calendar day that an instant falls on in the shop's own zone. */
export function dayOf(instant: Date, timeZone: string): Temporal.PlainDate {
  return zoned(instant, timeZone).toPlainDate();
}

/** The instant at which a day begins in the shop's own zone. */
export function startOfDay(day: Temporal.PlainDate, timeZone: string): Date {
  return dateOf(day.toZonedDateTime({ timeZone }));
}

/**
 * When the doors are open on one calendar day, in order. A clock time that a change of the clocks leaves out
 * counts from the first instant after the gap; one that comes twice opens at its first and closes at its last
 * occurrence, so that nobody is turned away in an hour that the sign on the door calls open.
 */
export function openSpansOf(day: Temporal.PlainDate, hours: OpeningHours): readonly Span[] {
  const weekday = WEEKDAYS[day.dayOfWeek - 1];
  if (weekday === undefined) return [];
  return hours.openingHours[weekday]
    .map(({ opens, closes }) => ({
      startsAt: instantAt(day, opens, hours.timeZone, 'earlier'),
      endsAt: instantAt(day, closes, hours.timeZone, 'later'),
    }))
    .filter((span) => span.startsAt < span.endsAt);
}

/** True when the doors are open for every instant of the span: over midnight only where both days say so. */
export function isOpenThroughout(span: Span, hours: OpeningHours): boolean {
  let openUntil = span.startsAt.getTime();
  for (let day = dayOf(span.startsAt, hours.timeZone); ; day = day.add({ days: 1 })) {
    for (const open of openSpansOf(day, hours)) {
      if (open.startsAt.getTime() <= openUntil) openUntil = Math.max(openUntil, open.endsAt.getTime());
    }
    if (openUntil >= span.endsAt.getTime()) return true;
    if (openUntil < startOfDay(day.add({ days: 1 }), hours.timeZone).getTime()) return false;
  }
}

/**
 * The instant of a clock time on a day, 24:00 being the next day's start. `undefined` for a time that the clocks
 * skip on that day; of a time that comes twice, the first.
 */
export function instantOfClockTime(
  day: Temporal.PlainDate,
  clockTime: string,
  timeZone: string,
): Date | undefined {
  const instant = instantAt(day, clockTime, timeZone, 'earlier');
  const wall = clockTime === '24:00' ? '00:00' : clockTime;
  return zoned(instant, timeZone).toPlainTime().toString({ smallestUnit: 'minute' }) === wall
    ? instant
    : undefined;
}

/** Whole minutes on the stopwatch, whatever the clocks do meanwhile. */
export function minutesOf(span: Span): number {
  return (span.endsAt.getTime() - span.startsAt.getTime()) / MINUTE_MS;
}

/** Calendar days from one day to another; negative when the other is earlier. */
export function daysFrom(day: Temporal.PlainDate, other: Temporal.PlainDate): number {
  return day.until(other).days;
}

function instantAt(
  day: Temporal.PlainDate,
  clockTime: string,
  timeZone: string,
  whichOfTwo: 'earlier' | 'later',
): Date {
  if (clockTime === '24:00') return startOfDay(day.add({ days: 1 }), timeZone);
  const wall = day.toPlainDateTime(Temporal.PlainTime.from(clockTime));
  const first = wall.toZonedDateTime(timeZone, { disambiguation: 'earlier' });
  const second = wall.toZonedDateTime(timeZone, { disambiguation: 'later' });
  // In a gap the two lie on either side of it; the later one is the first real instant's image after it.
  const skipped = !first.toPlainDateTime().equals(wall);
  if (skipped) return gapEnd(first, second);
  return dateOf(whichOfTwo === 'earlier' ? first : second);
}

/** The instant at which the clocks jump: the only offset change between an instant before and one after it. */
function gapEnd(before: Temporal.ZonedDateTime, after: Temporal.ZonedDateTime): Date {
  const jump = before.getTimeZoneTransition('next');
  return dateOf(jump === null || Temporal.ZonedDateTime.compare(jump, after) > 0 ? after : jump);
}

function zoned(instant: Date, timeZone: string): Temporal.ZonedDateTime {
  return Temporal.Instant.fromEpochMilliseconds(instant.getTime()).toZonedDateTimeISO(timeZone);
}

function dateOf(moment: Temporal.ZonedDateTime): Date {
  return new Date(moment.epochMilliseconds);
}
