import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { lookAtAll, lookAtMember } from '../../server/bookings/look-again.js';
import { doChore } from '../../server/http/chores.js';
import type { House } from '../../server/http/house.js';
import { remindOfLapses } from '../../server/inductions/remind.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { clearedReport, LONG_AGO, plainPlate } from '../support/plain-rows.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { bearerOf, makeMember, signedInMember } from '../support/sign-in.js';
import { inThisOrder } from '../support/waiting.js';

/** A Monday, 08:00 in Dublin. */
const NOW = '2026-11-23T08:00:00Z';
const DAY_MINUTES = 24 * 60;

const database = await testDatabase();
const house = await testHouse(database, { at: NOW });
await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const odile = await signedInMember(house, 'steward');
const kofi = await signedInMember(house, 'steward');

type Headers = Record<string, string>;

/** A member without a sign-off, with a plate that is clear. */
async function member() {
  const made = await signedInMember(house, 'member', []);
  const plateId = await plainPlate(database, made.member.id);
  await clearedReport(database, plateId);
  return { id: made.member.id, headers: made.headers, plateId };
}

async function sign(memberId: string, competence: string, headers: Headers = odile.headers): Promise<string> {
  const reply = await api
    .post('/api/v1/signoffs')
    .set(headers)
    .send({ memberId, competence, note: 'Did it.' })
    .expect(201);
  return reply.body.id;
}

async function bookable() {
  const made = await member();
  const operation = await sign(made.id, 'press-operation');
  const change = await sign(made.id, 'plate-change');
  return { ...made, operation, change };
}

let slots = 0;

/** An hour that no other test of this file uses, from tomorrow on. */
function freshSlot() {
  const startsAt = new Date(Date.UTC(2026, 10, 24 + Math.floor(slots / 6), 10 + 2 * (slots % 6)));
  slots += 1;
  return { startsAt: startsAt.toISOString(), endsAt: new Date(startsAt.getTime() + 3_600_000).toISOString() };
}

function book({ plateId, headers }: { plateId: string; headers: Headers }, slot: object = freshSlot()) {
  return api
    .post('/api/v1/bookings')
    .set(headers)
    .send({ plateId, revision: 1, polymer: 'PP', ...slot });
}

function revoke(id: string, headers: Headers = odile.headers) {
  return api.delete(`/api/v1/signoffs/${id}`).set(headers).send({ reason: 'Ran alone.' });
}

async function statusOf(bookingId: string, headers: Headers): Promise<string> {
  return (await api.get(`/api/v1/bookings/${bookingId}`).set(headers).expect(200)).body.status;
}

async function noticesOf(headers: Headers): Promise<readonly { kind: string; href: string }[]> {
  return (await api.get('/api/v1/notices?unread=true&limit=100').set(headers).expect(200)).body.items;
}

describe('booking', () => {
  it('asks for press operation and plate change, and says which is missing and what to do', async () => {
    const someone = await member();
    const none = await book(someone);
    expect({ status: none.status, codes: codesOf(none) }).toEqual({
      status: 422,
      codes: ['signoff-missing'],
    });
    expect(none.body.reasons[0].message).toContain(': Press operation, Plate change.');
    expect(none.body.reasons[0].fix).toContain('ask for a witness');
    await sign(someone.id, 'press-operation');
    const one = await book(someone);
    expect(one.body.reasons[0].message).toContain(': Plate change.');
    await sign(someone.id, 'plate-change');
    await book(someone).expect(201);
  });

  it('names competences as people do, wherever it tells what is missing', async () => {
    const visitor = visitorOf(house);
    const someone = await makeMember(house, 'member', []);
    await visitor.signIn(someone);
    const plateId = await plainPlate(database, someone.id);
    await clearedReport(database, plateId);
    const empty = (await visitor.get('/bookings/new').expect(200)).text;
    expect(empty).toContain('<b>missing: Press operation, Plate change</b>');
    expect(empty).toContain('You are not signed off for Press operation and Plate change.');
    await sign(someone.id, 'press-operation');
    const change = await sign(someone.id, 'plate-change');
    expect((await visitor.get('/bookings/new').expect(200)).text).not.toContain('missing: ');
    const { body } = await book({ plateId, headers: await bearerOf(house, someone) }).expect(201);
    await revoke(change).expect(200);
    const steward = visitorOf(house);
    await steward.signIn(kofi.member);
    const pages = [
      await visitor.get(`/bookings/${body.id}`).expect(200),
      await visitor.get('/notices').expect(200),
      await steward.get('/desk').expect(200),
      await steward.get('/trail').expect(200),
    ].map(({ text }) => text);
    expect(pages[0]).toContain('A sign-off is missing for all of that time: Plate change.');
    expect(pages[2]).toContain('A sign-off is missing for all of that time: Plate change.');
    expect(pages[3]).toContain(`revoked a sign-off of ${someone.displayName} for Plate change`);
    for (const text of pages) {
      expect(text).toContain('Plate change');
      expect(text.replace(/(href|action)="[^"]*"/g, '')).not.toMatch(/plate-change|press-operation/);
    }
  });

  it('lists a missing sign-off with every other reason', async () => {
    const someone = await member();
    const slot = { startsAt: '2026-11-24T03:00:00Z', endsAt: '2026-11-24T04:00:00Z' };
    expect(codesOf(await book(someone, slot))).toEqual(['signoff-missing', 'booking-outside-opening-hours']);
  });

  it('wants the sign-off to stand through the booking’s end', async () => {
    const someone = await bookable();
    const LAPSES = 365 * DAY_MINUTES;
    house.clock.turn(LAPSES - 2 * DAY_MINUTES);
    try {
      const headers = (
        await api
          .post('/api/v1/session')
          .send({ email: await emailOf(someone.id), password: 'a plain long sentence' })
      ).body;
      const again = { plateId: someone.plateId, headers: { authorization: `Bearer ${headers.token}` } };
      // It lapses on Tuesday 23 November 2027 at 08:00, before the doors open.
      await book(again, { startsAt: '2027-11-22T20:00:00Z', endsAt: '2027-11-22T22:00:00Z' }).expect(201);
      expect(
        codesOf(await book(again, { startsAt: '2027-11-23T09:00:00Z', endsAt: '2027-11-23T10:00:00Z' })),
      ).toEqual(['signoff-missing']);
    } finally {
      house.clock.turn(2 * DAY_MINUTES - LAPSES);
    }
  });

  it('is judged anew when it is moved', async () => {
    const someone = await bookable();
    const { body } = await book(someone).expect(201);
    await revoke(someone.change).expect(200);
    const move = () => api.patch(`/api/v1/bookings/${body.id}`).set(someone.headers).send(freshSlot());
    expect(codesOf(await move())).toEqual(['signoff-missing']);
    await sign(someone.id, 'plate-change', kofi.headers);
    expect((await move().expect(200)).body.status).toBe('booked');
  });
});

async function emailOf(memberId: string): Promise<string> {
  const [row] = await database.query<{ email: string }>('select email from member where id = $1', [memberId]);
  return row?.email ?? '';
}

describe('a sign-off that is revoked', () => {
  it('marks the coming bookings, keeps the press for them, and tells member and stewards', async () => {
    const someone = await bookable();
    const slot = freshSlot();
    const { body } = await book(someone, slot).expect(201);
    await revoke(someone.operation).expect(200);
    expect(await statusOf(body.id, someone.headers)).toBe('needs-attention');
    const href = `/bookings/${body.id}`;
    for (const { headers } of [someone, odile, kofi]) {
      expect(await noticesOf(headers)).toContainEqual(
        expect.objectContaining({ kind: 'booking-needs-attention', href }),
      );
    }
    const other = await bookable();
    expect(codesOf(await book(other, slot))).toContain('press-taken');
    const trail = await database.query(
      'select action, actor_id from audit_entry where subject_id = $1 order by id',
      [body.id],
    );
    expect(trail.at(-1)).toEqual({ action: 'booking-needs-attention', actor_id: odile.member.id });
  });

  it('leaves what does not rest on it', async () => {
    const someone = await bookable();
    const extra = await sign(someone.id, 'granulator');
    const { body } = await book(someone).expect(201);
    await revoke(extra).expect(200);
    expect(await statusOf(body.id, someone.headers)).toBe('booked');
  });

  it('leaves what is over, and what was cancelled', async () => {
    const someone = await bookable();
    const over = await book(someone).expect(201);
    const cancelled = await book(someone).expect(201);
    await api.delete(`/api/v1/bookings/${cancelled.body.id}`).set(someone.headers).expect(200);
    await database.query(
      `with moved as (update booking set starts_at = starts_at - interval '30 days', ends_at = ends_at - interval '30 days' where id = $1)
       update reservation set starts_at = starts_at - interval '30 days', ends_at = ends_at - interval '30 days' where booking_id = $1`,
      [over.body.id],
    );
    await revoke(someone.operation).expect(200);
    expect(await statusOf(over.body.id, someone.headers)).toBe('booked');
    expect(await statusOf(cancelled.body.id, someone.headers)).toBe('cancelled');
  });
});

describe('a member who is suspended', () => {
  it('keeps their press time, marked', async () => {
    const someone = await bookable();
    const { body } = await book(someone).expect(201);
    await api
      .post(`/api/v1/members/${someone.id}/suspension`)
      .set(odile.headers)
      .send({ reason: 'Bypassed a guard.' })
      .expect((reply) => expect([200, 201]).toContain(reply.status));
    expect(await statusOf(body.id, odile.headers)).toBe('needs-attention');
  });
});

describe('one books and another revokes at the same moment', () => {
  const orders = [
    { order: 'booked first: marked', bookedFirst: true },
    { order: 'revoked first: refused', bookedFirst: false },
  ];

  it.each(orders)('$order', async ({ bookedFirst }) => {
    const someone = await bookable();
    const slot = freshSlot();
    const booking = () => book(someone, slot);
    const revoking = () => revoke(someone.change);
    const [booked, revoked] = bookedFirst
      ? await inThisOrder(database, someone.id, booking, revoking)
      : [...(await inThisOrder(database, someone.id, revoking, booking))].reverse();
    expect(revoked?.status).toBe(200);
    if (bookedFirst) {
      expect(booked?.status).toBe(201);
      expect(await statusOf(booked?.body.id, someone.headers)).toBe('needs-attention');
    } else {
      expect(codesOf(booked ?? { body: null })).toEqual(['signoff-missing']);
      expect(await database.query('select from booking where member_id = $1', [someone.id])).toEqual([]);
    }
  });
});

describe('the chores', () => {
  const asHouse = { database, now: house.clock.now } as unknown as House;
  const remind = () =>
    doChore(asHouse, { name: 'reminders', run: (tx, at) => remindOfLapses(tx, at, [lookAtMember]) });

  it('remind once before a sign-off lapses and once after, however many processes do them', async () => {
    const someone = await bookable();
    const kinds = async () =>
      (
        await database.query<{ kind: string }>(
          `select kind from notice where member_id = $1 and kind like 'sign-off-%' order by kind`,
          [someone.id],
        )
      ).map(({ kind }) => kind);
    await remind();
    expect(await kinds()).toEqual([]);
    house.clock.turn(340 * DAY_MINUTES);
    try {
      await Promise.all([remind(), remind(), remind()]);
      await remind();
      expect(await kinds()).toEqual(['sign-off-lapsing', 'sign-off-lapsing']);
      house.clock.turn(30 * DAY_MINUTES);
      await Promise.all([remind(), remind(), remind()]);
      await remind();
      expect(await kinds()).toEqual([
        'sign-off-lapsed',
        'sign-off-lapsed',
        'sign-off-lapsing',
        'sign-off-lapsing',
      ]);
    } finally {
      house.clock.turn(-370 * DAY_MINUTES);
    }
  });

  it('do not remind of what was revoked or refreshed', async () => {
    const someone = await bookable();
    await revoke(someone.operation).expect(200);
    await api
      .post('/api/v1/signoffs')
      .set(odile.headers)
      .send({ memberId: someone.id, competence: 'plate-change', note: 'Again.', refreshes: someone.change })
      .expect(201);
    house.clock.turn(370 * DAY_MINUTES);
    try {
      await remind();
      const [row] = await database.query<{ count: number }>(
        `select count(*)::int as count from notice where member_id = $1 and kind = 'sign-off-lapsed'`,
        [someone.id],
      );
      expect(row).toEqual({ count: 1 });
    } finally {
      house.clock.turn(-370 * DAY_MINUTES);
    }
  });

  it('mark a coming booking that rests on nothing, by whatever way that came about', async () => {
    const someone = await bookable();
    const { body } = await book(someone).expect(201);
    await database.query(
      `insert into sign_off_end (sign_off_id, kind, ended_by, reason, ended_at) values ($1, 'revoked', $2, 'by hand', $3)`,
      [someone.operation, odile.member.id, new Date(NOW)],
    );
    await doChore(asHouse, { name: 'coming bookings', run: lookAtAll });
    expect(await statusOf(body.id, someone.headers)).toBe('needs-attention');
  });
});
