import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { book } from '../../server/bookings/book.js';
import { cancel } from '../../server/bookings/cancel.js';
import { move } from '../../server/bookings/move.js';
import type { Actor } from '../../server/context.js';
import { transact } from '../../server/database/transaction.js';
import { Refusal } from '../../server/reasons.js';
import { testDatabase } from '../support/database.js';
import { gullwingRules } from '../support/gullwing-house.js';
import { clearedReport, plainMember, plainPlate, plainRows } from '../support/plain-rows.js';

const SEED = 20_261_125;
const MINUTE_MS = 60_000;

/** Monday, 06:00 on the wall in London, which is UTC in November. */
const NOW = new Date('2026-11-23T06:00:00Z');
const LONGEST_MINUTES = 300;
const SHORTEST_MINUTES = 30;
const DAYS_AHEAD = 4;

/** Open from 10 to 21, closed on Wednesday, so that the oracle can count in minutes from Monday midnight. */
const open = [{ opens: '10:00', closes: '21:00' }];
const rules = {
  ...gullwingRules,
  timeZone: 'Europe/London',
  shortestStretchMinutes: SHORTEST_MINUTES,
  longestStretchMinutes: LONGEST_MINUTES,
  bookableDaysAhead: DAYS_AHEAD,
  openingHours: {
    ...gullwingRules.openingHours,
    monday: open,
    tuesday: open,
    wednesday: [],
    thursday: open,
    friday: open,
  },
};

const database = await testDatabase();
const rows = await plainRows(database, 'clear', rules);
const otherId = await plainMember(database, 'Tamsin');
const otherPlateId = await plainPlate(database, otherId);
await clearedReport(database, otherPlateId);

const wren: Actor = {
  memberId: rows.memberId,
  displayName: 'Wren',
  role: 'member',
  stewards: false,
  sessionIdHash: '',
};
const tamsin: Actor = {
  memberId: otherId,
  displayName: 'Tamsin',
  role: 'member',
  stewards: false,
  sessionIdHash: '',
};

/** A booking as the oracle keeps it: minutes from Monday midnight. */
interface Held {
  id: string;
  owner: Actor;
  from: number;
  to: number;
}

const at = (minute: number) => new Date(Date.UTC(2026, 10, 23) + minute * MINUTE_MS);

/** The rules once more, in a few lines of arithmetic that share nothing with the service. */
function expectedReasons(from: number, to: number, held: readonly Held[]): string[] {
  const minutesOfDay = 24 * 60;
  const dayOf = Math.floor(from / minutesOfDay);
  const isOpen = (minute: number) => {
    const clock = minute % minutesOfDay;
    return Math.floor(minute / minutesOfDay) !== 2 && 600 <= clock && clock < 1260;
  };
  const reasons: string[] = [];
  if (to <= from) reasons.push('booking-backwards');
  if (from < 360) reasons.push('booking-in-the-past');
  if (dayOf > DAYS_AHEAD) reasons.push('booking-too-far-ahead');
  if (from < to && Array.from({ length: to - from }, (_, i) => from + i).some((minute) => !isOpen(minute)))
    reasons.push('booking-outside-opening-hours');
  if (from < to && to - from < SHORTEST_MINUTES) reasons.push('booking-too-short');
  if (to - from > LONGEST_MINUTES) reasons.push('booking-too-long');
  reasons.push(...held.filter((one) => one.from < to && from < one.to).map(() => 'press-taken'));
  return reasons;
}

type Step =
  | { kind: 'book'; byTamsin: boolean; from: number; length: number }
  | { kind: 'move'; which: number; from: number; length: number }
  | { kind: 'cancel'; which: number };

// Monday to Friday in quarters of an hour, where the edges are.
const from = fc.integer({ min: 0, max: 5 * 24 * 4 - 1 }).map((quarter) => quarter * 15);
const length = fc.integer({ min: -2, max: 24 }).map((quarter) => quarter * 15);
const which = fc.nat({ max: 50 });
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({ kind: fc.constant('book' as const), byTamsin: fc.boolean(), from, length }),
  },
  { weight: 2, arbitrary: fc.record({ kind: fc.constant('move' as const), which, from, length }) },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('cancel' as const), which }) },
);

const codesOf = (outcome: unknown) =>
  outcome instanceof Refusal ? outcome.reasons.map(({ code }) => code).sort() : [];

async function doBook(given: Step & { kind: 'book' }, held: Held[]) {
  const owner = given.byTamsin ? tamsin : wren;
  const to = given.from + given.length;
  const outcome = await transact(database, (tx) =>
    book(
      { actor: owner, now: NOW, tx },
      {
        plateId: given.byTamsin ? otherPlateId : rows.plateId,
        revision: 1,
        polymer: 'PP',
        bookingKind: 'production',
        shots: null,
        granulate: false,
        startsAt: at(given.from),
        endsAt: at(to),
      },
    ),
  );
  expect(codesOf(outcome)).toEqual(expectedReasons(given.from, to, held).sort());
  if (typeof outcome === 'string') held.push({ id: outcome, owner, from: given.from, to });
}

async function doMove(given: Step & { kind: 'move' }, held: Held[]) {
  const booking = held[given.which % Math.max(1, held.length)];
  if (booking === undefined) return;
  const to = given.from + given.length;
  const others = held.filter((one) => one !== booking);
  const wanted = { bookingId: booking.id, startsAt: at(given.from), endsAt: at(to) };
  const outcome = await transact(database, (tx) => move({ actor: booking.owner, now: NOW, tx }, wanted));
  expect(codesOf(outcome)).toEqual(expectedReasons(given.from, to, others).sort());
  if (typeof outcome === 'string') Object.assign(booking, { from: given.from, to });
}

async function doCancel(given: Step & { kind: 'cancel' }, held: Held[]) {
  const [booking] = held.splice(given.which % Math.max(1, held.length), 1);
  if (booking === undefined) return;
  const wanted = { bookingId: booking.id, reason: null };
  const outcome = await transact(database, (tx) => cancel({ actor: booking.owner, now: NOW, tx }, wanted));
  expect(outcome).toBe(booking.id);
}

describe(`random bookings, moves and cancellations (seed ${SEED})`, () => {
  it('are taken and refused as a few lines of arithmetic say, and the database holds the same', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 30, maxLength: 60 }), async (steps) => {
        const held: Held[] = [];
        for (const one of steps) {
          if (one.kind === 'book') await doBook(one, held);
          else if (one.kind === 'move') await doMove(one, held);
          else await doCancel(one, held);
        }
        const stored = await database.query<{ id: string; startsAt: Date; endsAt: Date }>(
          `select booking_id as id, starts_at as "startsAt", ends_at as "endsAt" from reservation
           where released_at is null order by starts_at`,
        );
        held.sort((a, b) => a.from - b.from);
        expect(stored).toEqual(
          held.map(({ id, ...one }) => ({ id, startsAt: at(one.from), endsAt: at(one.to) })),
        );
        for (const { id, owner } of held)
          await transact(database, (tx) =>
            cancel({ actor: owner, now: NOW, tx }, { bookingId: id, reason: null }),
          );
      }),
      { seed: SEED, numRuns: 12, endOnFailure: true },
    );
  });
});
