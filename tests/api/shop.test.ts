import supertest from 'supertest';
import { beforeEach, describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { transact } from '../../server/database/transaction.js';
import { addRules } from '../../server/shop/store.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress, gullwingRules } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

/** A Monday in November, 08:00 in Dublin, where the clocks are on UTC. The doors open at 09:00 and close at 22:00. */
const NOW = '2026-11-23T08:00:00Z';

const database = await testDatabase();
const house = await testHouse(database, { at: NOW });
await furnishPress(database, LONG_AGO);
for (const [kind, name] of [
  ['oven-tray', 'Oven tray'],
  ['granulator', 'Granulator'],
]) {
  await database.query('insert into equipment (kind, name) values ($1, $2)', [kind ?? '', name ?? '']);
}
const api = supertest(house.url);
const wren = await signedInMember(house);
const tamsin = await signedInMember(house);
const odile = await signedInMember(house, 'steward');
const maren = await signedInMember(house, 'admin');

type Headers = { readonly authorization: string };

async function plateOf(headers: Headers): Promise<string> {
  const body = { name: 'Tile spacer', ...plateBody('tile-spacer-4up') };
  const { id } = (await api.post('/api/v1/plates').set(headers).send(body).expect(201)).body;
  await clearPlate(house, { plateId: id });
  return id;
}

const plates = new Map([
  [wren, await plateOf(wren.headers)],
  [tamsin, await plateOf(tamsin.headers)],
]);

/** Days of December count on from November's thirtieth. */
const DECEMBER = 30;

/** An hour of a day of November 2026 in Dublin; 23 is today. */
const at = (day: number, hour: number) => new Date(Date.UTC(2026, 10, day, 0, hour * 60)).toISOString();

function book(who: typeof wren, day: number, from: number, to: number) {
  const body = {
    plateId: plates.get(who),
    revision: 1,
    polymer: 'PP',
    startsAt: at(day, from),
    endsAt: at(day, to),
  };
  return api.post('/api/v1/bookings').set(who.headers).send(body);
}

const rulesNow = async () => (await api.get('/api/v1/shop-rules').set(wren.headers).expect(200)).body.items;
const setRules = (changes: object, more: object = {}, who = maren) =>
  api
    .post('/api/v1/shop-rules')
    .set(who.headers)
    .send({ changes, ...more });
const preview = (changes: object, more: object = {}) =>
  api
    .post('/api/v1/shop-rules/preview')
    .set(maren.headers)
    .send({ changes, ...more });
const close = (startsAt: string | undefined, endsAt: string, note = 'stocktake', who = maren) =>
  api.post('/api/v1/closures').set(who.headers).send({ startsAt, endsAt, note });

/**
 * Every test begins with a press that is free and the usual rules in force from now on. A version that is set
 * ahead stays, so each test that sets one has days of its own, in December.
 */
beforeEach(async () => {
  await transact(database, async (tx) => {
    await tx.query(
      `update booking set status = 'cancelled', cancelled_at = $1, cancelled_by = member_id where status <> 'cancelled'`,
      [house.clock.now()],
    );
    // First: what is given back goes to the closures that stand.
    await tx.query('update closure set lifted_at = $1 where lifted_at is null', [house.clock.now()]);
    await tx.query('update reservation set released_at = $1 where released_at is null', [house.clock.now()]);
    await tx.query('update notice set read_at = created_at where read_at is null');
  });
  house.clock.turn(1);
  await addRules(database, gullwingRules, house.clock.now(), null);
});

describe('the shop rules', () => {
  it('are seen by every member and set by admins alone', async () => {
    const [inForce] = await rulesNow();
    expect(inForce.rules.clampSafetyFactor).toBe(gullwingRules.clampSafetyFactor);
    for (const who of [wren, odile]) {
      const refused = await setRules({ longestStretchMinutes: 120 }, {}, who).expect(403);
      expect(codesOf(refused)).toEqual(['not-allowed']);
      expect(codesOf(await close(undefined, at(24, 12), 'x', who).expect(403))).toEqual(['not-allowed']);
    }
    await api.get('/api/v1/shop-rules').expect(401);
    const set = await setRules({ longestStretchMinutes: 120 }).expect(201);
    expect(set.body).toMatchObject({ version: inForce.version + 1, setBy: maren.member.displayName });
    expect((await rulesNow())[0].rules.longestStretchMinutes).toBe(120);
    const [entry] = await database.query(
      `select actor_id, details from audit_entry where action = 'shop-rules-set' order by id desc limit 1`,
    );
    expect(entry).toMatchObject({
      actor_id: maren.member.id,
      details: { version: set.body.version, changed: 'longestStretchMinutes' },
    });
  });

  it('hold from their day on, and a later version with the same day takes the place of an earlier one', async () => {
    const validFrom = at(DECEMBER + 8, 0);
    await setRules({ longestStretchMinutes: 60 }, { validFrom }).expect(201);
    await book(wren, DECEMBER + 7, 10, 13).expect(201);
    expect(codesOf(await book(wren, DECEMBER + 8, 10, 13).expect(422))).toEqual(['booking-too-long']);
    await setRules({ longestStretchMinutes: 240 }, { validFrom }).expect(201);
    await book(wren, DECEMBER + 8, 10, 13).expect(201);
    const items = await rulesNow();
    expect(
      items.map(({ rules }: { rules: { longestStretchMinutes: number } }) => rules.longestStretchMinutes),
    ).toEqual([480, 240]);
    expect(items[0].validUntil).toBe(new Date(validFrom).toISOString());
  });

  it.each<[string, object, object, string]>([
    ['in the past', { longestStretchMinutes: 60 }, { validFrom: '2026-11-01T00:00:00Z' }, 'rules-backdated'],
    [
      'years ahead',
      { longestStretchMinutes: 60 },
      { validFrom: '2031-11-01T00:00:00Z' },
      'rules-too-far-ahead',
    ],
    ['with no change', { longestStretchMinutes: 480 }, {}, 'rules-unchanged'],
    ['with nothing', {}, {}, 'rules-unchanged'],
  ])('are refused %s', async (_what, changes, more, code) => {
    expect(codesOf(await setRules(changes, more).expect(422))).toEqual([code]);
    expect(codesOf(await preview(changes, more).expect(422))).toEqual([code]);
  });

  it.each<[string, object]>([
    ['a safety factor below one', { clampSafetyFactor: 0.9 }],
    ['a safety factor of nonsense', { clampSafetyFactor: 40 }],
    ['a clearance below nothing', { handClearanceMm: -1 }],
    ['a step of no minutes', { slotStepMinutes: 0 }],
    ['a stretch of no minutes', { longestStretchMinutes: 0 }],
    ['no days ahead', { bookableDaysAhead: 0 }],
    ['a quota of no hours', { quotaHoursAMonth: 0 }],
    ['a quota of odd minutes', { quotaHoursAhead: 1.1 }],
    ['a time zone that is none', { timeZone: 'Middle/Earth' }],
    ['a rule that is none', { freeCake: true }],
    [
      'hours that overlap',
      hoursOf([
        { opens: '09:00', closes: '13:00' },
        { opens: '12:00', closes: '15:00' },
      ]),
    ],
    ['hours that run backwards', hoursOf([{ opens: '15:00', closes: '09:00' }])],
    ['hours of no length', hoursOf([{ opens: '09:00', closes: '09:00' }])],
    ['hours that are none', hoursOf([{ opens: '25:00', closes: '26:00' }])],
  ])('are refused with %s', async (_what, changes) => {
    expect(codesOf(await setRules(changes).expect(400))).toEqual(expect.arrayContaining(['field-invalid']));
  });

  it('set while somebody looks at them are not overwritten unseen', async () => {
    const { body } = await preview({ longestStretchMinutes: 60 }).expect(200);
    await setRules({ bookableDaysAhead: 14 }).expect(201);
    const late = await setRules({ longestStretchMinutes: 60 }, { basedOn: body.basedOn }).expect(409);
    expect(codesOf(late)).toEqual(['changed-meanwhile']);
    expect((await rulesNow())[0].rules).toMatchObject({ longestStretchMinutes: 480, bookableDaysAhead: 14 });
  });

  it('sent twice with one key are set once', async () => {
    const send = () => setRules({ longestStretchMinutes: 90 }).set('idempotency-key', 'ninety');
    const [first, second] = [await send().expect(201), await send().expect(201)];
    expect(second.body).toEqual(first.body);
  });

  it('set by two admins at once stand one after the other, none lost', async () => {
    const latest = async () => {
      const [row] = await database.query<{ latest: number }>('select max(version) as latest from shop_rule');
      return row?.latest ?? 0;
    };
    const before = await latest();
    const replies = await Promise.all(
      [60, 120, 180, 240].map((longestStretchMinutes) => setRules({ longestStretchMinutes })),
    );
    const kept = replies.filter(({ status }) => status === 201).map(({ body }) => body.version);
    expect(new Set(kept).size).toBe(kept.length);
    for (const { status, body } of replies) {
      if (status !== 201) expect([status, body.reasons[0].code]).toEqual([409, 'changed-meanwhile']);
    }
    expect(await latest()).toBe(before + kept.length);
  });

  it('are never backdated, whoever writes', async () => {
    const error = await addRules(database, gullwingRules, LONG_AGO, null, new Date(NOW)).catch(
      (e: unknown) => e,
    );
    expect(pgFaultOf(error)?.constraint).toBe('shop_rule_not_backdated');
  });
});

/** What somebody was told of bookings that need attention, and has not read. */
async function attentionOf({ headers }: typeof wren): Promise<readonly { href: string; text: string }[]> {
  const told = await api.get('/api/v1/notices?unread=true').set(headers).expect(200);
  return told.body.items.filter(({ kind }: { kind: string }) => kind === 'booking-needs-attention');
}

function hoursOf(monday: readonly { opens: string; closes: string }[]): object {
  return { openingHours: { ...gullwingRules.openingHours, monday } };
}

describe('a change that bookings no longer fit', () => {
  const THURSDAY = DECEMBER + 10;
  const shorterDay = {
    openingHours: { ...gullwingRules.openingHours, thursday: [{ opens: '09:00', closes: '12:00' }] },
  };

  it('is shown before it is kept; then they need attention, and member and stewards are told', async () => {
    const fits = (await book(wren, THURSDAY, 9, 11).expect(201)).body.id;
    const late = (await book(wren, THURSDAY, 14, 16).expect(201)).body.id;
    const before = (await book(tamsin, THURSDAY - 1, 14, 16).expect(201)).body.id;
    const validFrom = at(THURSDAY, 0);
    const seen = await preview(shorterDay, { validFrom }).expect(200);
    expect(seen.body.changed).toEqual(['openingHours']);
    expect(seen.body.bookings).toMatchObject([
      {
        bookingId: late,
        displayName: wren.member.displayName,
        reasons: [{ code: 'booking-outside-opening-hours' }],
      },
    ]);
    expect(seen.body.plates).toEqual([]);
    expect(await statusesOf([fits, late, before])).toEqual(['booked', 'booked', 'booked']);

    await setRules(shorterDay, { validFrom, basedOn: seen.body.basedOn }).expect(201);
    expect(await statusesOf([fits, late, before])).toEqual(['booked', 'needs-attention', 'booked']);
    for (const who of [wren, odile, maren]) {
      const told = await attentionOf(who);
      expect(told).toMatchObject([{ href: `/bookings/${late}` }]);
      expect(told[0]?.text).toContain('The workshop is not open for all of that time');
    }
    expect(await attentionOf(tamsin)).toEqual([]);

    const moved = await api
      .patch(`/api/v1/bookings/${late}`)
      .set(wren.headers)
      .send({ startsAt: at(THURSDAY + 1, 14), endsAt: at(THURSDAY + 1, 16) })
      .expect(200);
    expect(moved.body.status).toBe('booked');
  });

  it('and whose plate gets another verdict: checked with the new factor, off the request', async () => {
    const id = (await book(wren, 26, 9, 11).expect(201)).body.id;
    const changes = { plateHolePositionMm: 1 };
    const seen = await preview(changes).expect(200);
    expect(seen.body.plates).toMatchObject([
      { displayName: wren.member.displayName, before: expect.not.stringMatching('stop'), after: 'stop' },
      { displayName: tamsin.member.displayName, polymer: 'PP', revision: 1, after: 'stop' },
    ]);
    expect(seen.body.plates[0].worse).toContainEqual({
      check: 'bolt-pattern',
      before: 'clear',
      after: 'stop',
    });
    expect(seen.body.bookings).toMatchObject([{ bookingId: id, reasons: [{ code: 'report-has-stop' }] }]);
    await setRules(changes).expect(201);
    expect(await statusesOf([id])).toEqual(['needs-attention']);
    expect(codesOf(await book(tamsin, 27, 9, 11).expect(422))).toEqual(['report-has-stop']);
  });

  it('against one that is booked at the same moment: either it is refused, or marked, never neither', async () => {
    for (let round = 0; round < 6; round += 1) {
      const day = 24 + round;
      const weekday = ['tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'][round] ?? '';
      const opens = { openingHours: { ...(await rulesNow())[0].rules.openingHours, [weekday]: [] } };
      const [booked, set] = await Promise.all([book(wren, day, 14, 16), setRules(opens)]);
      expect(set.status).toBe(201);
      if (booked.status === 201) expect(await statusesOf([booked.body.id])).toEqual(['needs-attention']);
      else expect(codesOf(booked)).toEqual(['booking-outside-opening-hours']);
    }
  });
});

async function statusesOf(ids: readonly string[]): Promise<readonly string[]> {
  const rows = await database.query<{ id: string; status: string }>(
    'select id, status from booking where id = any($1::uuid[])',
    [ids],
  );
  return ids.map((id) => rows.find((row) => row.id === id)?.status ?? 'none');
}

describe('a quota', () => {
  it('of hours in a month counts what starts in it, moved and cancelled time given back', async () => {
    await setRules({ quotaHoursAMonth: 4 }).expect(201);
    const first = (await book(wren, 24, 10, 13).expect(201)).body.id;
    const refused = await book(wren, 25, 10, 12).expect(422);
    expect(codesOf(refused)).toEqual(['quota-month-spent']);
    expect(refused.body.reasons[0].message).toContain('at most 4 hours, of which 1 are left');
    await book(tamsin, 25, 10, 12).expect(201);
    const nextMonth = {
      plateId: plates.get(wren),
      revision: 1,
      polymer: 'PP',
      startsAt: '2026-12-01T10:00:00Z',
      endsAt: '2026-12-01T13:00:00Z',
    };
    await api.post('/api/v1/bookings').set(wren.headers).send(nextMonth).expect(201);
    await api
      .patch(`/api/v1/bookings/${first}`)
      .set(wren.headers)
      .send({ startsAt: at(24, 14), endsAt: at(24, 18) })
      .expect(200);
    await api.delete(`/api/v1/bookings/${first}`).set(wren.headers).expect(200);
    await book(wren, 26, 10, 14).expect(201);
  });

  it('of hours still to come counts all of them, in whatever month', async () => {
    await setRules({ quotaHoursAhead: 4 }).expect(201);
    await book(wren, 24, 10, 13).expect(201);
    const me = await api.get('/api/v1/me').set(wren.headers).expect(200);
    expect(me.body.quota).toEqual({ hoursAMonth: null, hoursBooked: 3, hoursAhead: 4, hoursComing: 3 });
    expect(me.body.signOffs).toHaveLength(2);
    const december = {
      plateId: plates.get(wren),
      revision: 1,
      polymer: 'PP',
      startsAt: '2026-12-01T10:00:00Z',
      endsAt: '2026-12-01T12:00:00Z',
    };
    const refused = await api.post('/api/v1/bookings').set(wren.headers).send(december).expect(422);
    expect(codesOf(refused)).toEqual(['quota-ahead-spent']);
  });

  it('against parallel bookings of one member: never passed, whoever comes first', async () => {
    await setRules({ quotaHoursAMonth: 5, quotaHoursAhead: 5 }).expect(201);
    for (let round = 0; round < 5; round += 1) {
      const replies = await Promise.all(
        [10, 12, 14, 16].map((hour) => book(wren, 24 + round, hour, hour + 2)),
      );
      const made = replies.filter(({ status }) => status === 201);
      expect(made).toHaveLength(2);
      for (const reply of replies.filter(({ status }) => status !== 201)) {
        expect(codesOf(reply)).toEqual(['quota-month-spent', 'quota-ahead-spent']);
      }
      for (const { body } of made)
        await api.delete(`/api/v1/bookings/${body.id}`).set(wren.headers).expect(200);
    }
  });
});

describe('a closure', () => {
  it('holds every piece of equipment until it is lifted, and is named where somebody books', async () => {
    const made = await close(at(24, 9), at(24, 22)).expect(201);
    expect(made.body).toMatchObject({ note: 'stocktake', madeBy: maren.member.displayName, liftedAt: null });
    const held = await database.query(
      'select from reservation where closure_id = $1 and released_at is null',
      [made.body.id],
    );
    expect(held).toHaveLength(3);
    expect(codesOf(await book(wren, 24, 10, 12).expect(409))).toEqual(['press-closed']);
    const listed = await api.get('/api/v1/closures').set(wren.headers).expect(200);
    expect(listed.body.items.map(({ id }: { id: string }) => id)).toEqual([made.body.id]);

    await api.delete(`/api/v1/closures/${made.body.id}`).set(odile.headers).expect(403);
    await api.delete(`/api/v1/closures/${made.body.id}`).set(maren.headers).expect(200);
    const again = await api.delete(`/api/v1/closures/${made.body.id}`).set(maren.headers).expect(409);
    expect(codesOf(again)).toEqual(['closure-already-over']);
    await book(wren, 24, 10, 12).expect(201);
    await api.delete('/api/v1/closures/00000000-0000-4000-8000-000000000000').set(maren.headers).expect(404);
  });

  it('over bookings is refused with each of them, and nothing is held', async () => {
    await book(wren, 24, 10, 12).expect(201);
    await book(tamsin, 24, 14, 15).expect(201);
    const refused = await close(at(24, 11), at(25, 9)).expect(409);
    expect(codesOf(refused)).toEqual(['closure-over-booking', 'closure-over-booking']);
    const messages = refused.body.reasons.map(({ message }: { message: string }) => message).join(' ');
    expect(messages).toContain(wren.member.displayName);
    expect(messages).toContain(tamsin.member.displayName);
    expect((await api.get('/api/v1/closures').set(wren.headers)).body.items).toEqual([]);
  });

  it('leaves what is out of service as it is, and holds the rest', async () => {
    await database.query(
      `insert into reservation (equipment_id, starts_at, ends_at, purpose, note)
       select id, $1, $2, 'out-of-service', 'inspection' from equipment where kind = 'granulator'`,
      [new Date(at(24, 12)), new Date(at(24, 14))],
    );
    const made = await close(at(24, 9), at(24, 22)).expect(201);
    const held = await database.query<{ kind: string; from: Date; to: Date }>(
      `select e.kind, r.starts_at as "from", r.ends_at as "to" from reservation r join equipment e on e.id = r.equipment_id
       where r.closure_id = $1 order by e.kind, r.starts_at`,
      [made.body.id],
    );
    const spans = held.map(({ kind, from, to }) => [
      kind,
      from.toISOString().slice(11, 16),
      to.toISOString().slice(11, 16),
    ]);
    expect(spans).toEqual([
      ['granulator', '09:00', '12:00'],
      ['granulator', '14:00', '22:00'],
      ['oven-tray', '09:00', '22:00'],
      ['press', '09:00', '22:00'],
    ]);
  });

  it.each<[string, () => [string, string], number, string]>([
    ['backwards', () => [at(25, 12), at(25, 10)], 422, 'closure-backwards'],
    ['of no length', () => [at(25, 12), at(25, 12)], 422, 'closure-backwards'],
    ['in the past', () => [at(20, 12), at(25, 12)], 422, 'closure-in-the-past'],
    ['years ahead', () => [at(25, 12), '2030-01-01T00:00:00Z'], 422, 'closure-too-far-ahead'],
  ])('%s is refused', async (_what, span, status, code) => {
    expect(codesOf(await close(...span()).expect(status))).toEqual([code]);
  });

  it('over another is refused, and two at once close once', async () => {
    const replies = await Promise.all([close(at(24, 9), at(24, 14)), close(at(24, 12), at(24, 18))]);
    expect(replies.map(({ status }) => status).sort()).toEqual([201, 409]);
    const loser = replies.find(({ status }) => status === 409);
    expect(loser && codesOf(loser)).toEqual(['closure-overlaps']);
  });

  it('against a booking at the same moment: one or the other stands', async () => {
    for (let round = 0; round < 8; round += 1) {
      const day = 24 + (round % 6);
      const [closed, booked] = await Promise.all([close(at(day, 10), at(day, 12)), book(wren, day, 11, 13)]);
      expect([closed.status, booked.status].sort()).toEqual([201, 409]);
      if (closed.status === 201)
        await api.delete(`/api/v1/closures/${closed.body.id}`).set(maren.headers).expect(200);
      else await api.delete(`/api/v1/bookings/${booked.body.id}`).set(wren.headers).expect(200);
    }
  });
});

describe('the sheet of the shop rules', async () => {
  const admin = visitorOf(house);
  await admin.signIn(maren.member);
  const member = visitorOf(house);
  await member.signIn(wren.member);

  const fields = (more: object = {}) => ({
    makerspaceName: 'Gullwing Yard',
    timeZone: 'Europe/Dublin',
    monday: '9-22',
    tuesday: '9-22',
    wednesday: '9-12, 13-22',
    thursday: '9-22',
    friday: '9-22',
    saturday: '10-18',
    sunday: '10-18',
    shortestStretchMinutes: '15',
    longestStretchMinutes: '480',
    bookableDaysAhead: '28',
    slotStepMinutes: '15',
    quotaHoursAMonth: '',
    quotaHoursAhead: '12,5',
    clampSafetyFactor: '1,2',
    handClearanceMm: '60',
    plateHolePositionMm: '0.05',
    roomC: '20',
    validFrom: '2026-12-16',
    ...more,
  });

  it('is read by members, without a way to change anything', async () => {
    const { text } = await member.get('/shop-rules').expect(200);
    expect(text).toContain('09:00 to 22:00');
    expect(text).not.toContain('Change the rules');
    await member.get('/shop-rules/change').expect(403);
    for (const action of ['/shop-rules', '/shop-rules/preview', '/closures']) {
      expect((await member.submit('/account', action, fields())).status).toBe(403);
    }
  });

  it('shows what a change does, keeps it once it is confirmed, and tells of it from then on', async () => {
    await book(wren, DECEMBER + 16, 11, 14).expect(201);
    const seen = await admin.submit('/shop-rules/change', '/shop-rules/preview', fields());
    expect(seen.status).toBe(200);
    expect(seen.text).toContain('1 booking no longer fits');
    expect(seen.text).toContain('09:00 to 12:00, 13:00 to 22:00');
    const hidden = [...seen.text.matchAll(/<input type="hidden" name="([^"]+)" value="([^"]*)">/g)];
    const confirmed = Object.fromEntries(hidden.map(([, name = '', value = '']) => [name, value]));
    const kept = await admin.post('/shop-rules', confirmed);
    expect([kept.status, kept.headers.location]).toEqual([303, '/shop-rules']);
    expect((await admin.get('/shop-rules').expect(200)).text).toContain('who had to be told has been told');
    const { text } = await member.get('/shop-rules').expect(200);
    expect(text).toContain('Still to come');
    expect(text).toContain('12.5 h');
    const again = await admin.post('/shop-rules', confirmed);
    expect(again.status).toBe(422);
  });

  it('sets the hours that the week shows, each day by the rules that hold then', async () => {
    await setRules(
      { openingHours: { ...gullwingRules.openingHours, sunday: [] } },
      { validFrom: at(DECEMBER + 19, 0) },
    );
    const closedDays = async (from: string) => {
      const { text } = await member.get(`/week?from=${from}`).expect(200);
      return text.match(/(?:Sat|Sun) \d+ Dec[^<]*, closed/g) ?? [];
    };
    expect(await closedDays('2026-12-10')).toEqual([]);
    expect(await closedDays('2026-12-17')).toEqual([expect.stringContaining('Sun 20 Dec')]);
  });

  it('says of every field what is wrong with it, and keeps what was given', async () => {
    const wrong = {
      monday: '22-9',
      clampSafetyFactor: '0',
      quotaHoursAhead: 'many',
      validFrom: '31.12.2026',
      timeZone: 'Nowhere',
    };
    const reply = await admin.submit('/shop-rules/change', '/shop-rules/preview', fields(wrong));
    expect(reply.status).toBe(422);
    for (const field of Object.keys(wrong)) expect(reply.text).toContain(`href="#${field}"`);
    expect(reply.text).toContain('value="22-9"');
    const past = await admin.submit(
      '/shop-rules/change',
      '/shop-rules/preview',
      fields({ validFrom: '2026-11-01' }),
    );
    expect(past.status).toBe(422);
    expect(past.text).toContain('Shop rules are never changed backwards.');
  });

  it('closes and lifts by form, and says what stands in the way', async () => {
    const standing = await book(wren, 25, 10, 12).expect(201);
    const closing = {
      fromDate: '2026-11-25',
      fromTime: '09:00',
      toDate: '2026-11-25',
      toTime: '22:00',
      note: 'stocktake',
    };
    const refused = await admin.submit('/shop-rules', '/closures', closing);
    expect(refused.status).toBe(409);
    expect(refused.text).toContain(
      `${wren.member.displayName} has the press from Wed 25 Nov, 10:00 until Wed 25 Nov, 12:00.`,
    );
    expect(refused.text).toContain(`<a href="/bookings/${standing.body.id}">See the booking</a>`);
    expect(refused.text).toContain('the closure is refused and each of them is named');
    const other = { ...closing, fromDate: '2026-11-28', toDate: '2026-11-28' };
    expect((await admin.submit('/shop-rules', '/closures', other)).headers.location).toBe('/shop-rules');
    const { text } = await admin.get('/shop-rules').expect(200);
    const lift = /action="(\/closures\/[0-9a-f-]{36}\/lift)"/.exec(text)?.[1] ?? '';
    expect((await admin.submit('/shop-rules', lift)).headers.location).toBe('/shop-rules');
    expect(
      (await admin.submit('/shop-rules', '/closures', { ...closing, note: ' ', toTime: '9 pm' })).status,
    ).toBe(422);
  });
});
