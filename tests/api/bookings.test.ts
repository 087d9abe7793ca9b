import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { bookingReply, bookingsReply } from '../../server/bookings/schemas.js';
import { transact } from '../../server/database/transaction.js';
import { accept } from '../../server/http/refused.js';
import { submitPlate } from '../../server/plates/submit-plate.js';
import { addRules } from '../../server/shop/store.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { samplePlate } from '../support/gullwing.js';
import { furnishPress, gullwingRules } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody, sampleDxf, usualFacts } from '../support/plate-bodies.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

/** A Monday in November, 08:00 in Dublin, where the clocks are on UTC. The doors open at 09:00 and close at 22:00. */
const NOW = '2026-11-23T08:00:00Z';

const database = await testDatabase();
const house = await testHouse(database, { at: NOW });
const { pressId, bolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);

const wren = await signedInMember(house);
const tamsin = await signedInMember(house);
const odile = await signedInMember(house, 'steward');

const plateId = await clearedPlateOf(wren.headers);
const thinPlateId = await plateOf(wren.headers, {
  thicknessMm: 10,
  screw: { ...usualFacts.screw, lengthMm: 12, headSinkDepthMm: 6 },
});
const tamsinsPlateId = await clearedPlateOf(tamsin.headers);

/** Who asks: a signed-in member's header, or none. */
type Headers = Record<string, string>;

async function plateOf(headers: Headers, more: object = {}): Promise<string> {
  const reply = await api
    .post('/api/v1/plates')
    .set(headers)
    .send({ name: 'Tile spacer', ...plateBody('tile-spacer-4up', more) })
    .expect(201);
  return reply.body.id;
}

async function clearedPlateOf(headers: Headers): Promise<string> {
  const id = await plateOf(headers);
  await clearPlate(house, { plateId: id });
  return id;
}

/** A booking request from one hour to another of a day of this week, 23 being today. */
function wanted(day: number, from: number, to: number, more: object = {}) {
  const at = (hour: number) => new Date(Date.UTC(2026, 10, day, 0, hour * 60)).toISOString();
  return { plateId, revision: 1, polymer: 'PP', startsAt: at(from), endsAt: at(to), ...more };
}

function post(body: object, headers: Headers = wren.headers) {
  return api.post('/api/v1/bookings').set(headers).send(body);
}

async function bookingsStored(): Promise<number> {
  const [row] = await database.query<{ count: number }>('select count(*) from booking');
  return row?.count ?? 0;
}

describe('booking', () => {
  it('takes the press for the plate, the resin and the time, and says so', async () => {
    const reply = await post(wanted(24, 10, 12, { shots: 120 }));
    expect(reply.status).toBe(201);
    const booking = bookingReply.decode(reply.body);
    expect(reply.headers.location).toBe(`/api/v1/bookings/${booking.id}`);
    expect(booking).toMatchObject({
      pressId,
      plateId,
      revision: 1,
      polymer: 'PP',
      shots: 120,
      status: 'booked',
      bookingKind: 'production',
      reportVerdict: 'clear',
      equipment: ['Press'],
      own: true,
    });
    const again = await api.get(`/api/v1/bookings/${booking.id}`).set(wren.headers).expect(200);
    expect(bookingReply.decode(again.body)).toEqual(booking);
    const trail = await database.query(`select action from audit_entry where subject_id = $1`, [booking.id]);
    expect(trail).toEqual([{ action: 'booking-made' }]);
  });

  it('lets one begin when the other ends', async () => {
    await post(wanted(24, 13, 14)).expect(201);
    await post(wanted(24, 14, 15, { plateId: tamsinsPlateId }), tamsin.headers).expect(201);
  });

  it('computes the report of a resin that nobody asked for yet', async () => {
    const reply = await post(wanted(24, 16, 17, { polymer: 'hdpe' }));
    expect(codesOf(reply)).toEqual(['not-cleared-for-resin']);
    const stored = await database.query('select from plate_report where plate_id = $1 and polymer = $2', [
      plateId,
      'HDPE',
    ]);
    expect(stored).toHaveLength(1);
  });
});

describe('a booking is refused', () => {
  const hour = (day: number, from: number, to: number, more: object = {}) => wanted(day, from, to, more);

  it.each<[string, object, number, string[]]>([
    ['taken time', hour(24, 11, 13), 409, ['press-taken']],
    [
      'time that holds a booking',
      hour(24, 9, 17),
      409,
      ['press-taken', 'press-taken', 'press-taken', 'press-taken'],
    ],
    ['backwards', hour(25, 12, 11), 422, ['booking-backwards']],
    ['no time at all', hour(25, 12, 12), 422, ['booking-backwards']],
    ['yesterday', hour(22, 12, 13), 422, ['booking-in-the-past']],
    ['before the doors open', hour(25, 8, 10), 422, ['booking-outside-opening-hours']],
    ['after they close', hour(25, 21, 22.5), 422, ['booking-outside-opening-hours']],
    ['shorter than the shortest stretch', hour(25, 10, 10.2), 422, ['booking-too-short']],
    ['a millisecond', wanted(25, 10, 10, { endsAt: '2026-11-25T10:00:00.001Z' }), 422, ['booking-too-short']],
    ['longer than the longest stretch', hour(25, 10, 18.25), 422, ['booking-too-long']],
    ['29 days ahead', hour(23 + 29, 10, 11), 422, ['booking-too-far-ahead']],
    ['a plate with a stop', hour(25, 10, 11, { plateId: thinPlateId }), 422, ['report-has-stop']],
    [
      'all of it at once',
      hour(24, 8, 17, { plateId: thinPlateId }),
      422,
      [
        'report-has-stop',
        'booking-outside-opening-hours',
        'booking-too-long',
        'press-taken',
        'press-taken',
        'press-taken',
        'press-taken',
      ],
    ],
    ['somebody else’s plate', hour(25, 10, 11, { plateId: tamsinsPlateId }), 404, ['not-found']],
    ['a revision that is none', hour(25, 10, 11, { revision: 2 }), 404, ['not-found']],
    ['a malformed plate', hour(25, 10, 11, { plateId: 'tile' }), 404, ['not-found']],
    ['no plate', hour(25, 10, 11, { plateId: undefined }), 400, ['field-invalid']],
    ['a start that is no instant', hour(25, 10, 11, { startsAt: 'tomorrow' }), 400, ['field-invalid']],
    ['a start without offset', hour(25, 10, 11, { startsAt: '2026-11-25T10:00:00' }), 400, ['field-invalid']],
    ['no end', hour(25, 10, 11, { endsAt: undefined }), 400, ['field-invalid']],
    ['neither resin nor sack', hour(25, 10, 11, { polymer: undefined }), 400, ['field-invalid']],
    ['a sack', hour(25, 10, 11, { sackId: '7' }), 400, ['field-invalid']],
    ['a polymer that is none', hour(25, 10, 11, { polymer: 'butter' }), 422, ['polymer-unknown']],
    ['half a shot', hour(25, 10, 11, { shots: 0.5 }), 400, ['field-invalid']],
    ['no shots', hour(25, 10, 11, { shots: 0 }), 400, ['field-invalid']],
    ['NUL in the resin', hour(25, 10, 11, { polymer: 'P\u0000P' }), 422, ['polymer-unknown']],
    ['the year 0', hour(25, 10, 11, { startsAt: '0000-01-01T00:00:00Z' }), 422, ['booking-in-the-past']],
    [
      'the year 9999',
      hour(25, 10, 11, { endsAt: '9999-12-31T23:59:59Z' }),
      422,
      ['booking-outside-opening-hours', 'booking-too-long'],
    ],
  ])('%s', async (_what, body, status, codes) => {
    const before = await bookingsStored();
    const reply = await post(body);
    expect(codesOf(reply)).toEqual(expect.arrayContaining(codes));
    expect({ status: reply.status, first: codesOf(reply)[0] }).toEqual({ status, first: codes[0] });
    expect(await bookingsStored()).toBe(before);
  });

  it('to who is not signed in', async () => {
    expect((await post(wanted(25, 10, 11), {})).status).toBe(401);
  });

  it('into a closure and while the press is out of service, each by its own name', async () => {
    const close = (purpose: string, from: string, to: string) =>
      database.query(
        `insert into reservation (equipment_id, starts_at, ends_at, purpose, note)
         select id, $2, $3, $4, 'demo' from equipment where press_id = $1`,
        [pressId, from, to, purpose],
      );
    await close('closure', '2026-11-26T09:00:00Z', '2026-11-26T12:00:00Z');
    await close('out-of-service', '2026-11-26T12:00:00Z', '2026-11-26T13:00:00Z');
    const reply = await post(wanted(26, 11, 13));
    expect(reply.status).toBe(409);
    expect(codesOf(reply)).toEqual(['press-closed', 'press-out-of-service']);
  });

  it('with an old revision once there is a newer one', async () => {
    const id = await plateOf(wren.headers);
    await api.post(`/api/v1/plates/${id}/revisions`).set(wren.headers).send(plateBody()).expect(201);
    expect(codesOf(await post(wanted(25, 10, 11, { plateId: id })))).toEqual(['revision-not-latest']);
  });

  it('but one made with the revision before keeps its time, says so, and takes the latest when it is moved', async () => {
    const id = await clearedPlateOf(wren.headers);
    const { body } = await post(wanted(25, 10, 11, { plateId: id })).expect(201);
    await api.post(`/api/v1/plates/${id}/revisions`).set(wren.headers).send(plateBody()).expect(201);
    const move = () =>
      api
        .patch(`/api/v1/bookings/${body.id}`)
        .set(wren.headers)
        .send({ startsAt: '2026-11-25T11:00:00Z', endsAt: '2026-11-25T12:00:00Z' });
    const seen = await api.get(`/api/v1/bookings/${body.id}`).set(wren.headers).expect(200);
    expect(seen.body).toMatchObject({
      status: 'needs-attention',
      revision: 1,
      attention: [{ code: 'revision-followed', fix: expect.stringContaining('takes the latest') }],
    });
    expect(codesOf(await move())).toEqual(['plate-not-cleared']);
    const visitor = visitorOf(house);
    await visitor.signIn(wren.member);
    const page = await visitor.get(`/bookings/${body.id}`).expect(200);
    expect(page.text).toContain('revision 1; the plate is at revision 2 by now');
    await clearPlate(house, { plateId: id, revision: 2 });
    expect((await move().expect(200)).body).toMatchObject({
      status: 'booked',
      revision: 2,
      startsAt: '2026-11-25T11:00:00.000Z',
      attention: [],
    });
    await api.delete(`/api/v1/bookings/${body.id}`).set(wren.headers).expect(200);
  });

  it('with no bolster in the press', async () => {
    await database.query('update bolster set mounted = false');
    try {
      expect(codesOf(await post(wanted(25, 10, 11)))).toEqual(['bolster-not-mounted']);
    } finally {
      await database.query('update bolster set mounted = true where id = $1', [bolsterId]);
    }
  });
});

describe('an Idempotency-Key', () => {
  it('books once and answers alike; with another body it is refused', async () => {
    const headers = { ...wren.headers, 'idempotency-key': 'once' };
    const first = await post(wanted(25, 15, 16), headers).expect(201);
    const second = await post(wanted(25, 15, 16), headers).expect(201);
    expect(second.body).toEqual(first.body);
    expect(codesOf(await post(wanted(25, 16, 17), headers))).toEqual(['idempotency-key-reused']);
  });

  it('keeps no refusal', async () => {
    const headers = { ...wren.headers, 'idempotency-key': 'later' };
    const blocking = await post(wanted(25, 18, 19)).expect(201);
    await post(wanted(25, 18, 19), headers).expect(409);
    await api.delete(`/api/v1/bookings/${blocking.body.id}`).set(wren.headers).expect(200);
    await post(wanted(25, 18, 19), headers).expect(201);
  });
});

describe('what others see of a booking', () => {
  it('is time, equipment, name and polymer, no more', async () => {
    const { body } = await post(wanted(27, 10, 11, { shots: 5 })).expect(201);
    const reply = await api.get(`/api/v1/bookings/${body.id}`).set(tamsin.headers).expect(200);
    expect(Object.keys(reply.body).sort()).toEqual(
      ['displayName', 'endsAt', 'equipment', 'id', 'own', 'polymer', 'pressId', 'startsAt'].sort(),
    );
    const forSteward = await api.get(`/api/v1/bookings/${body.id}`).set(odile.headers).expect(200);
    expect(forSteward.body).toMatchObject({ own: false, plateName: 'Tile spacer', shots: 5 });
  });

  it.each(['nothing', '00000000-0000-4000-8000-000000000000'])('is not found: %s', async (id) => {
    await api.get(`/api/v1/bookings/${id}`).set(wren.headers).expect(404);
    await api.delete(`/api/v1/bookings/${id}`).set(wren.headers).expect(404);
    await api.patch(`/api/v1/bookings/${id}`).set(wren.headers).send({ endsAt: NOW }).expect(404);
  });
});

describe('the list of bookings', () => {
  it('goes on page by page by start, none lost and none twice', async () => {
    const whole = await api.get('/api/v1/bookings?limit=100').set(wren.headers).expect(200);
    const all = bookingsReply.decode(whole.body).items;
    const seen: string[] = [];
    let next: string | null = '';
    while (next !== null) {
      const cursor: string = next === '' ? '' : `&cursor=${encodeURIComponent(next)}`;
      const reply = await api.get(`/api/v1/bookings?limit=2${cursor}`).set(wren.headers).expect(200);
      const page = bookingsReply.decode(reply.body);
      seen.push(...page.items.map(({ id }) => id));
      next = page.next;
    }
    expect(all.length).toBeGreaterThan(4);
    expect(seen).toEqual(all.map(({ id }) => id));
  });

  it('holds what touches the span asked for', async () => {
    const asked = 'from=2026-11-24T11:00:00Z&to=2026-11-24T13:00:00Z';
    const reply = await api.get(`/api/v1/bookings?${asked}&pressId=${pressId}`).set(wren.headers).expect(200);
    expect(bookingsReply.decode(reply.body).items.map(({ startsAt }) => startsAt.toISOString())).toEqual([
      '2026-11-24T10:00:00.000Z',
    ]);
  });

  it.each(['from=soon', 'cursor=abc', 'limit=0', 'limit=1000', 'pressId=press', 'mine=perhaps'])(
    'refuses ?%s',
    async (query) => {
      const reply = await api.get(`/api/v1/bookings?${query}`).set(wren.headers);
      expect([400, 404]).toContain(reply.status);
      expect(codesOf(reply)).toHaveLength(1);
    },
  );
});

describe('moving a booking', () => {
  it('takes the new time and frees the old, and is judged like a new booking', async () => {
    const { body } = await post(wanted(30, 10, 11)).expect(201);
    const { startsAt, endsAt } = wanted(30, 10.5, 12);
    const move = (to: object, headers: Headers = wren.headers) =>
      api.patch(`/api/v1/bookings/${body.id}`).set(headers).send(to);
    const moved = await move({ startsAt, endsAt }).expect(200);
    expect(moved.body).toMatchObject({ id: body.id, startsAt, endsAt });
    await post(wanted(30, 10, 10.5)).expect(201);
    expect(codesOf(await move({ startsAt: wanted(30, 10, 11).startsAt }))).toEqual(['press-taken']);
    expect(codesOf(await move({ endsAt: wanted(30, 10, 9).endsAt }))).toContain('booking-backwards');
    expect(codesOf(await move({}))).toEqual(['body-not-understood']);
    expect((await move({ endsAt }, tamsin.headers)).status).toBe(403);
    expect((await move({ endsAt }, odile.headers)).status).toBe(403);
  });
});

describe('cancelling a booking', () => {
  it('frees the press at once, and only once', async () => {
    const { body } = await post(wanted(30, 14, 15)).expect(201);
    const cancel = () => api.delete(`/api/v1/bookings/${body.id}`).set(wren.headers);
    const cancelled = await cancel().expect(200);
    expect(cancelled.body).toMatchObject({ status: 'cancelled', equipment: [], cancelReason: null });
    expect(codesOf(await cancel())).toEqual(['booking-already-cancelled']);
    await post(wanted(30, 14, 15, { plateId: tamsinsPlateId }), tamsin.headers).expect(201);
    const mine = await api.get('/api/v1/bookings?mine=true').set(wren.headers).expect(200);
    expect(bookingsReply.decode(mine.body).items.map(({ id }) => id)).toContain(body.id);
  });

  it('is for its owner, and for a steward with a reason', async () => {
    const { body } = await post(wanted(30, 16, 17)).expect(201);
    const cancel = (headers: Headers, reason?: string) =>
      api.delete(`/api/v1/bookings/${body.id}`).set(headers).send({ reason });
    expect((await cancel(tamsin.headers, 'mine is more urgent')).status).toBe(403);
    const without = await cancel(odile.headers);
    expect({ status: without.status, codes: codesOf(without) }).toEqual({
      status: 400,
      codes: ['field-invalid'],
    });
    const cancelled = await cancel(odile.headers, 'the hose leaks').expect(200);
    expect(cancelled.body).toMatchObject({ status: 'cancelled', cancelReason: 'the hose leaks' });
    const told = await api.get('/api/v1/notices?unread=true').set(wren.headers).expect(200);
    const cancelledNotice = { kind: 'booking-cancelled', href: `/bookings/${body.id}` };
    expect(told.body.items).toContainEqual(
      expect.objectContaining({ ...cancelledNotice, text: expect.stringContaining('the hose leaks') }),
    );
  });

  it('comes too late for one that is over', async () => {
    const soon = await post(wanted(23, 9, 10)).expect(201);
    house.clock.turn(3 * 60);
    try {
      const reply = await api.delete(`/api/v1/bookings/${soon.body.id}`).set(wren.headers);
      expect(codesOf(reply)).toEqual(['booking-already-over']);
    } finally {
      house.clock.turn(-3 * 60);
    }
  });
});

describe('a report that ages while it is computed', () => {
  it('is computed anew: a booking stands on the rules in force', async () => {
    const outcome = await transact(database, (tx) =>
      submitPlate(
        { actor: { ...wrenAsActor() }, now: new Date(NOW), tx },
        {
          name: 'Another',
          drawing: { bytes: Buffer.from(sampleDxf('seed-label-2up'), 'latin1'), fileName: 'label.dxf' },
          facts: samplePlate,
        },
      ),
    );
    const id = accept(outcome);
    await clearPlate(house, { plateId: id });
    await post(wanted(31, 10, 11, { plateId: id })).expect(201);
    await addRules(database, gullwingRules, new Date(NOW), null);
    const { body } = await post(wanted(31, 11, 12, { plateId: id })).expect(201);
    const [report] = await database.query(
      `select r.shop_rule_version as version from booking b join plate_report r on r.id = b.report_id where b.id = $1`,
      [body.id],
    );
    expect(report).toEqual({ version: 2 });
  });
});

function wrenAsActor() {
  return {
    memberId: wren.member.id,
    displayName: wren.member.displayName,
    role: 'member',
    stewards: false,
    sessionIdHash: '',
  } as const;
}
