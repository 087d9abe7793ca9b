import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { doChore } from '../../server/http/chores.js';
import type { House } from '../../server/http/house.js';
import { lapsesSoonFrom } from '../../server/inductions/lapses-soon.js';
import { remindOfLapses } from '../../server/inductions/remind.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

const NOW = '2026-11-23T09:00:00Z';
const DAY_MINUTES = 24 * 60;

describe('a sign-off lapses soon', () => {
  const from = (signedAt: string, validUntil: string) =>
    lapsesSoonFrom({ signedAt: new Date(signedAt), validUntil: new Date(validUntil) }).toISOString();

  it('in its last thirty days', () => {
    expect(from('2026-01-01T00:00:00Z', '2027-01-01T00:00:00Z')).toBe('2026-12-02T00:00:00.000Z');
  });

  it('in the last quarter of a short interval', () => {
    expect(from('2026-01-01T00:00:00Z', '2026-01-29T00:00:00Z')).toBe('2026-01-22T00:00:00.000Z');
  });
});

describe('of a competence that is refreshed every month', async () => {
  const database = await testDatabase();
  const house = await testHouse(database, {
    at: NOW,
    settings: { sessionHours: 24 * 90, sessionIdleMinutes: 60 * 24 * 90 },
  });
  const api = supertest(house.url);
  const admin = await signedInMember(house, 'admin');
  const remind = () =>
    doChore({ database, now: house.clock.now } as unknown as House, {
      name: 'reminders',
      run: (tx, at) => remindOfLapses(tx, at, []),
    });

  it('nobody is reminded on the day of the sign-off, but once in its last week', async () => {
    const contents = '## One\n\nText.\n\n## Practical part\n\n- Sawed';
    const saw = { competence: 'saw', title: 'Saw', refreshMonths: 1, contents };
    await api.post('/api/v1/competences').set(admin.headers).send(saw).expect(201);
    const { id } = await makeMember(house, 'member', []);
    const signing = { memberId: id, competence: 'saw', note: 'Sawed.' };
    await api.post('/api/v1/signoffs').set(admin.headers).send(signing).expect(201);
    const reminded = async () => {
      await remind();
      const kinds = await database.query(
        `select kind from notice where member_id = $1 and kind = 'sign-off-lapsing'`,
        [id],
      );
      return kinds.length;
    };
    expect(await reminded()).toBe(0);
    house.clock.turn(20 * DAY_MINUTES);
    expect(await reminded()).toBe(0);
    house.clock.turn(4 * DAY_MINUTES);
    expect(await reminded()).toBe(1);
    house.clock.turn(DAY_MINUTES);
    expect(await reminded()).toBe(1);
  });
});
