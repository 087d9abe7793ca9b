import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { lose } from '../../server/bookings/lost-store.js';
import { setAttention } from '../../server/bookings/store.js';
import { transact } from '../../server/database/transaction.js';
import { allWaiting, type Waiting } from '../../server/desk/waiting.js';
import type { Reason } from '../../server/reasons.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

/** A Monday in November, 08:00 in Dublin. */
const NOW = '2026-11-23T08:00:00Z';
const DAY_MINUTES = 1440;

const database = await testDatabase();
const house = await testHouse(database, { at: NOW });
await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house);
const odile = await signedInMember(house, 'steward');

async function deskOf({ headers }: typeof wren): Promise<readonly (Waiting & { until?: string })[]> {
  return (await api.get('/api/v1/desk').set(headers).expect(200)).body.items;
}

const plateId = (
  await api
    .post('/api/v1/plates')
    .set(wren.headers)
    .send({ name: 'Tile spacer', ...plateBody() })
    .expect(201)
).body.id;
await clearPlate(house, { plateId });

async function booked(day: number): Promise<string> {
  const startsAt = new Date(Date.UTC(2026, 10, day, 10)).toISOString();
  const endsAt = new Date(Date.UTC(2026, 10, day, 12)).toISOString();
  const body = { plateId, revision: 1, polymer: 'PP', startsAt, endsAt };
  return (await api.post('/api/v1/bookings').set(wren.headers).send(body).expect(201)).body.id;
}

const mark = (bookingId: string, reason: Reason) =>
  transact(database, async (tx) => {
    await lose(tx, bookingId, reason, house.clock.now());
    await setAttention(tx, bookingId);
  });

/** What the head of a page counts at the desk; undefined where there is no desk. */
const countIn = (html: string) => {
  const link = /href="\/desk"[^>]*>Desk(?: <span class="ps-balloon">(\d+))?/.exec(html);
  return link === null ? undefined : Number(link[1] ?? 0);
};

describe('the steward’s desk', () => {
  it('is for who stewards; for others there is none', async () => {
    const others = [
      wren,
      await signedInMember(house, 'steward', []),
      await signedInMember(house, 'admin', []),
    ];
    for (const other of others) {
      expect(codesOf(await api.get('/api/v1/desk').set(other.headers).expect(404))).toEqual(['not-found']);
      const visitor = visitorOf(house);
      await visitor.signIn(other.member);
      await visitor.get('/desk').expect(404);
      expect(countIn((await visitor.get('/').expect(200)).text)).toBeUndefined();
    }
    await api.get('/api/v1/desk').expect(401);
  });

  it('lists bookings that need attention, the next first, with why; each until it is moved', async () => {
    const [later, sooner] = [await booked(26), await booked(25)];
    expect(await deskOf(odile)).toEqual([]);
    await mark(later, { code: 'booking-outside-opening-hours' });
    await mark(sooner, { code: 'signoff-missing', figures: { competences: 'plate-change' } });
    await mark(sooner, { code: 'report-has-stop', figures: { checks: 'daylight' } });
    const lines = await deskOf(odile);
    expect(lines.map(({ href, group, verdict }) => [href, group, verdict])).toEqual([
      [`/bookings/${sooner}`, 'today', 'caution'],
      [`/bookings/${later}`, 'today', 'caution'],
    ]);
    expect(lines[0]?.more).toBe(
      `${wren.member.displayName}. A sign-off is missing for all of that time: Plate change. ` +
        'The plate check says stop (Daylight), so the plate cannot be booked.',
    );

    const visitor = visitorOf(house);
    await visitor.signIn(odile.member);
    const { text } = await visitor.get('/desk').expect(200);
    expect(countIn(text)).toBe(2);
    expect(text).toContain(`What waits for you, ${odile.member.displayName}`);
    expect(text).toMatch(/<h2[^>]*>Needs attention</);
    expect(text).toContain('until Wed 25 Nov');
    expect(text.match(/ps-button--second ps-button--small/g)).toHaveLength(1);

    const startsAt = '2026-11-27T10:00:00Z';
    const endsAt = '2026-11-27T12:00:00Z';
    await api.patch(`/api/v1/bookings/${sooner}`).set(wren.headers).send({ startsAt, endsAt }).expect(200);
    await api.delete(`/api/v1/bookings/${later}`).set(wren.headers).expect(200);
    expect(await deskOf(odile)).toEqual([]);
  });

  it('lists who asks for a witness, but never a steward to themselves', async () => {
    const tamsin = await makeMember(house, 'member', []);
    const kofi = await signedInMember(house, 'steward');
    for (const memberId of [tamsin.id, kofi.member.id]) {
      await database.query(
        `insert into witness_request (member_id, competence, version, asked_at) values ($1, 'drying-oven', 1, $2)`,
        [memberId, house.clock.now()],
      );
    }
    const names = async (who: typeof wren) => (await deskOf(who)).map(({ name }) => name);
    const [asked, askedBySteward] = [`Witness ${tamsin.displayName}`, `Witness ${kofi.member.displayName}`];
    expect((await names(odile)).map((name) => name.split(':')[0])).toEqual(
      expect.arrayContaining([asked, askedBySteward]),
    );
    expect((await names(kofi)).map((name) => name.split(':')[0])).toEqual([asked]);
  });

  it('tells of sign-offs that end within a month, and presses in the last week', async () => {
    const bram = await makeMember(house, 'member', []);
    const ends = new Date(house.clock.now().getTime() + 20 * DAY_MINUTES * 60_000);
    await database.query(
      `insert into sign_off (member_id, competence, version, signed_by, eighteen_or_older, signed_at, valid_until)
       values ($1, 'granulator', 1, $2, true, $3, $4)`,
      [bram.id, odile.member.id, LONG_AGO, ends],
    );
    const steward = await makeMember(house, 'steward');
    const visitor = visitorOf(house);
    await visitor.signIn(steward);
    const [line] = (await deskOf(odile)).filter(({ name }) => name.includes(bram.displayName));
    expect(line).toMatchObject({ group: 'people', href: `/inductions/history/${bram.id}` });
    expect(line?.verdict).toBeUndefined();
    house.clock.turn(15 * DAY_MINUTES);
    const later = await signedInMember(house, 'steward');
    expect((await deskOf(later)).find(({ name }) => name.includes(bram.displayName))?.verdict).toBe(
      'caution',
    );
    house.clock.turn(6 * DAY_MINUTES);
    const latest = await signedInMember(house, 'steward');
    expect((await deskOf(latest)).filter(({ name }) => name.includes(bram.displayName))).toEqual([]);
  });

  it('tells of invitations that nobody has come by, with their end', async () => {
    const steward = await signedInMember(house, 'steward');
    const invited = await api
      .post('/api/v1/invitations')
      .set(steward.headers)
      .send({ email: 'nuria@gullwing.example', displayName: 'Nuria', role: 'member' });
    expect(invited.status).toBe(201);
    const [line] = (await deskOf(steward)).filter(({ name }) => name.includes('Nuria'));
    expect(line).toMatchObject({
      group: 'people',
      name: 'Invitation is open: Nuria',
      href: '/members#invitations',
    });
  });

  it('says who has the press now and who is next', async () => {
    const steward = await makeMember(house, 'steward');
    const visitor = visitorOf(house);
    await visitor.signIn(steward);
    const { text } = await visitor.get('/desk').expect(200);
    expect(text).toContain('09:00 to 22:00');
    expect(text).toContain('nobody today');
  });
});

describe('what waits', () => {
  it('stands group by group, what presses first, else in the order of the queues', async () => {
    const line = (name: string, more: object = {}) =>
      ({ group: 'people', name, more: '', href: '/', button: '', ...more }) as Waiting;
    const first = [line('first'), line('second', { verdict: 'caution' })];
    const second = [line('third', { verdict: 'stop' }), line('today', { group: 'today' }), line('last')];
    const actor = {
      memberId: wren.member.id,
      displayName: 'Wren',
      role: 'member',
      stewards: true,
      sessionIdHash: '',
    } as const;
    const asked = { db: database, now: house.clock.now(), actor, timeZone: 'UTC' };
    const inOrder = await allWaiting([async () => first, async () => second], asked);
    expect(inOrder.map(({ name }) => name)).toEqual(['today', 'second', 'third', 'first', 'last']);
  });
});
