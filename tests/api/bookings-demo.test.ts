import { describe, expect, it } from 'vitest';
import { YARD_ACCOUNTS, YARD_RULES } from '../../prisma/demo/gullwing-yard.js';
import { seedDemo } from '../../prisma/demo/seed-demo.js';
import { HOURS_WITH_BREAK } from '../../prisma/demo/yard-week.js';
import { transact } from '../../server/database/transaction.js';
import { isOpenThroughout } from '../../server/shop/opening-hours.js';
import { testDatabase } from '../support/database.js';

/** Every day of a week, and days on which the clocks change within the two weeks. */
const STARTS = [
  ...Array.from({ length: 7 }, (_, day) => `2026-11-${23 + day}T09:30:00Z`),
  '2026-03-27T23:30:00Z',
  '2026-10-24T23:30:00Z',
  '2027-01-01T00:00:00Z',
];

describe.each(STARTS)('Gullwing Yard begun at %s', async (start) => {
  const database = await testDatabase();
  await transact(database, (tx) => seedDemo(tx, new Date(start)));

  it('has two weeks of bookings around today, all within the opening hours and on plates without a stop', async () => {
    const bookings = await database.query<{ startsAt: Date; endsAt: Date; verdict: string }>(
      `select b.starts_at as "startsAt", b.ends_at as "endsAt", r.verdict
       from booking b join plate_report r on r.id = b.report_id`,
    );
    const now = new Date(start);
    expect(bookings.length).toBeGreaterThanOrEqual(12);
    expect(bookings.filter((booking) => booking.endsAt > now).length).toBeGreaterThanOrEqual(6);
    expect(bookings.filter((booking) => booking.endsAt <= now).length).toBeGreaterThanOrEqual(5);
    expect(bookings.every((booking) => isOpenThroughout(booking, YARD_RULES))).toBe(true);
    expect(bookings.map(({ verdict }) => verdict)).not.toContain('stop');
  });

  it('has a closed day, a granulator at inspection, and the three accounts', async () => {
    const held = await database.query(
      `select purpose, count(*) as count from reservation where purpose <> 'booking' group by 1 order by 1`,
    );
    expect(held).toEqual([
      // The press, both trays of the oven, and the granulator.
      { purpose: 'closure', count: 4 },
      { purpose: 'out-of-service', count: 1 },
    ]);
    const able = await database.query<{ email: string }>(
      'select email from member where password_hash is not null order by email',
    );
    expect(able.map(({ email }) => email)).toEqual(YARD_ACCOUNTS.map(({ email }) => email as string).sort());
  });

  it('has a coming version of the shop rules, which some bookings do not fit, and of which people were told', async () => {
    const marked = await database.query<{ id: string; memberId: string; startsAt: Date; endsAt: Date }>(
      `select id, member_id as "memberId", starts_at as "startsAt", ends_at as "endsAt" from booking
       where status = 'needs-attention'`,
    );
    expect(marked.length).toBeGreaterThanOrEqual(1);
    const rules = { ...YARD_RULES, openingHours: HOURS_WITH_BREAK };
    for (const { id, memberId, ...span } of marked) {
      expect(isOpenThroughout(span, rules)).toBe(false);
      const told = await database.query<{ role: string; own: boolean }>(
        `select m.role, m.id = $2 as own from notice n join member m on m.id = n.member_id where n.href = $1`,
        [`/bookings/${id}`, memberId],
      );
      expect(told.some(({ own }) => own)).toBe(true);
      expect(told.some(({ role }) => role === 'steward')).toBe(true);
    }
  });
});
