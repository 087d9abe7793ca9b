import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { problem } from '../../server/http/problem.js';
import { type Booker, bookers } from '../support/booking-service.js';
import { testDatabase } from '../support/database.js';
import { gullwingRules } from '../support/gullwing-house.js';
import { plainRows } from '../support/plain-rows.js';
import { startService } from '../support/service.js';

const CLIENTS = 64;
const ROUNDS = 50;
const MEMBERS = 8;

/** One-hour slots of each day that are open on every day of the week. */
const HOURS = [10, 11, 12, 13, 14, 15, 16];

const database = await testDatabase();
const { equipmentId } = await plainRows(database);
const settings = { DATABASE_URL: database.url, DEMO: 'off' };
const services = await Promise.all([startService(settings), startService(settings)]);
const urls = services.map(({ url }) => url);
const members = await bookers(database, urls[0] ?? '', MEMBERS);

/** The slot of a round: an hour of the coming days. */
function slotOf(round: number) {
  const day = Temporal.Now.plainDateISO(gullwingRules.timeZone).add({
    days: 1 + Math.floor(round / HOURS.length),
  });
  const hour = HOURS[round % HOURS.length] ?? 0;
  const at = (clock: number) =>
    day
      .toZonedDateTime({ timeZone: gullwingRules.timeZone, plainTime: { hour: clock } })
      .toInstant()
      .toString();
  return { startsAt: at(hour), endsAt: at(hour + 1) };
}

async function book(url: string, { authorization, plateId }: Booker, slot: object): Promise<Response> {
  return fetch(`${url}/api/v1/bookings`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', authorization },
    body: JSON.stringify({ plateId, revision: 1, polymer: 'PP', ...slot }),
  });
}

async function outcomeOf(reply: Response): Promise<string> {
  if (reply.status === 201) return 'booked';
  const { reasons } = problem.parse(await reply.json());
  return `${reply.status} ${reasons.map(({ code }) => code).join(', ')}`;
}

describe(`${CLIENTS} clients of two processes on one database`, () => {
  it(`want one slot, ${ROUNDS} times over: one gets it, every other is told that it is taken`, async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const slot = slotOf(round);
      const outcomes = await Promise.all(
        Array.from({ length: CLIENTS }, async (_, client) => {
          const member = members[client % MEMBERS];
          const url = urls[client % urls.length];
          if (member === undefined || url === undefined) throw new Error('There is nobody to book.');
          return outcomeOf(await book(url, member, slot));
        }),
      );
      outcomes.sort();
      const losers = Array.from({ length: CLIENTS - 1 }, () => '409 press-taken');
      expect(outcomes, `round ${round}`).toEqual([...losers, 'booked']);
    }
    const [held] = await database.query<{ count: number; overlaps: number }>(
      `select count(*)::int as count, (select count(*)::int from reservation a join reservation b
         on a.equipment_id = b.equipment_id and a.id < b.id and a.starts_at < b.ends_at and b.starts_at < a.ends_at
        ) as overlaps from reservation where equipment_id = $1`,
      [equipmentId],
    );
    expect(held).toEqual({ count: ROUNDS, overlaps: 0 });
  }, 180_000);
});
