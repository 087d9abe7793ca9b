import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import {
  instantOfClockTime,
  isOpenThroughout,
  minutesOf,
  type OpeningHours,
  openSpansOf,
} from '../../server/shop/opening-hours.js';
import type { ShopRules } from '../../server/shop/rules.js';

type Day = ShopRules['openingHours']['monday'];

function hours(
  everyDay: Day,
  timeZone = 'Europe/London',
  other: Partial<ShopRules['openingHours']> = {},
): OpeningHours {
  const week = {
    monday: everyDay,
    tuesday: everyDay,
    wednesday: everyDay,
    thursday: everyDay,
    friday: everyDay,
    saturday: everyDay,
    sunday: everyDay,
  };
  return { timeZone, openingHours: { ...week, ...other } };
}

const day = (text: string) => Temporal.PlainDate.from(text);
const span = (from: string, to: string) => ({ startsAt: new Date(from), endsAt: new Date(to) });
const office = [{ opens: '10:00', closes: '21:00' }];
const allDay = [{ opens: '00:00', closes: '24:00' }];

describe('opening hours', () => {
  // Wednesday 15 July 2026 is in summer time: 10:00 in London is 09:00Z.
  it.each([
    ['the whole day', '2026-07-15T09:00:00Z', '2026-07-15T20:00:00Z', true],
    ['a millisecond before opening', '2026-07-15T08:59:59.999Z', '2026-07-15T10:00:00Z', false],
    ['a millisecond after closing', '2026-07-15T19:00:00Z', '2026-07-15T20:00:00.001Z', false],
    ['over a night that is closed', '2026-07-15T19:00:00Z', '2026-07-16T10:00:00Z', false],
    ['all of it at night', '2026-07-15T21:00:00Z', '2026-07-15T22:00:00Z', false],
  ])('hold %s as they stand on the door', (_what, from, to, open) => {
    expect(isOpenThroughout(span(from, to), hours(office))).toBe(open);
  });

  it('are none on a closed day', () => {
    const closedOnSunday = hours(office, 'Europe/London', { sunday: [] });
    expect(openSpansOf(day('2026-11-29'), closedOnSunday)).toEqual([]);
    expect(isOpenThroughout(span('2026-11-29T12:00Z', '2026-11-29T13:00Z'), closedOnSunday)).toBe(false);
  });

  it('have a lunch break that a booking may not run through', () => {
    const broken = hours([
      { opens: '10:00', closes: '12:00' },
      { opens: '13:00', closes: '17:00' },
    ]);
    expect(isOpenThroughout(span('2026-11-25T10:30Z', '2026-11-25T12:00Z'), broken)).toBe(true);
    expect(isOpenThroughout(span('2026-11-25T11:30Z', '2026-11-25T13:30Z'), broken)).toBe(false);
  });

  it('go over midnight only where both days say so', () => {
    const night = span('2026-11-25T22:00Z', '2026-11-26T02:00Z');
    expect(isOpenThroughout(night, hours(allDay))).toBe(true);
    expect(isOpenThroughout(night, hours(allDay, 'Europe/London', { thursday: office }))).toBe(false);
    expect(isOpenThroughout(night, hours(allDay, 'Europe/London', { wednesday: office }))).toBe(false);
  });
});

describe('when the clocks change', () => {
  // In London they go from 01:00 to 02:00 on 29 March 2026 (01:00Z), from 02:00 back to 01:00 on 25 October (01:00Z).
  it('a day has 23 or 25 hours', () => {
    const lengths = ['2026-03-29', '2026-06-01', '2026-10-25'].map((date) =>
      openSpansOf(day(date), hours(allDay)).map(minutesOf),
    );
    expect(lengths).toEqual([[23 * 60], [24 * 60], [25 * 60]]);
  });

  it('a shop that opens in the hour left out opens when it is over', () => {
    const [open] = openSpansOf(day('2026-03-29'), hours([{ opens: '01:30', closes: '12:00' }]));
    expect(open).toEqual(span('2026-03-29T01:00Z', '2026-03-29T11:00Z'));
  });

  it('a shop that is open only in the hour left out is closed that day', () => {
    expect(openSpansOf(day('2026-03-29'), hours([{ opens: '01:10', closes: '01:50' }]))).toEqual([]);
  });

  it('a shop is open for both of the hours that come twice', () => {
    const [open] = openSpansOf(day('2026-10-25'), hours([{ opens: '01:00', closes: '01:30' }]));
    expect(open).toEqual(span('2026-10-25T00:00Z', '2026-10-25T01:30Z'));
  });

  it('a booking through the change is as long as the stopwatch says', () => {
    const booking = span('2026-10-24T23:30Z', '2026-10-25T02:30Z');
    expect(isOpenThroughout(booking, hours(allDay))).toBe(true);
    expect(minutesOf(booking)).toBe(180);
  });

  it('opening times stay on the wall clock, before and after', () => {
    const opened = ['2026-10-24', '2026-10-26'].map(
      (date) => openSpansOf(day(date), hours(office))[0]?.startsAt,
    );
    expect(opened).toEqual([new Date('2026-10-24T09:00Z'), new Date('2026-10-26T10:00Z')]);
  });

  it('works in a zone whose midnight is left out', () => {
    // Beirut goes from 00:00 to 01:00 on 29 March 2026 (22:00Z the evening before).
    const [open] = openSpansOf(day('2026-03-29'), hours(allDay, 'Asia/Beirut'));
    expect(open).toEqual(span('2026-03-28T22:00Z', '2026-03-29T21:00Z'));
    const night = span('2026-03-28T20:00Z', '2026-03-28T23:00Z');
    expect(isOpenThroughout(night, hours(allDay, 'Asia/Beirut'))).toBe(true);
  });
});

describe('a clock time given on a form', () => {
  it.each([
    ['2026-03-29', '01:30', undefined],
    ['2026-03-29', '02:00', '2026-03-29T01:00:00.000Z'],
    ['2026-10-25', '01:30', '2026-10-25T00:30:00.000Z'],
    ['2026-07-15', '10:00', '2026-07-15T09:00:00.000Z'],
    ['2026-07-15', '24:00', '2026-07-15T23:00:00.000Z'],
  ])('on %s, %s is %s', (date, clock, instant) => {
    expect(instantOfClockTime(day(date), clock, 'Europe/London')?.toISOString()).toBe(instant);
  });
});
