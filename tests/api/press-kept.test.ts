import supertest from 'supertest';
import { beforeAll, describe, expect, it } from 'vitest';
import { bolsterOnWire } from '../../server/press/views.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { demoBolster, demoPress, keyedBolster } from '../support/gullwing.js';
import { furnishPress } from '../support/gullwing-house.js';
import { codesOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database, { at: '2026-11-25T10:00:00Z' });
const api = supertest(house.url);
const { bolsterId, keyedBolsterId } = await furnishPress(database, new Date('2026-01-01T00:00:00Z'));
const admin = await signedInMember(house, 'admin');
const steward = await signedInMember(house, 'steward');
const member = await signedInMember(house);

const facts = bolsterOnWire(demoBolster);
const post = (path: string, body: object, who = admin) =>
  api.post(`/api/v1${path}`).set(who.headers).send(body);
const get = (path: string, who = member) => api.get(`/api/v1${path}`).set(who.headers);

async function latest(path: string): Promise<number> {
  return (await get(path).expect(200)).body.version;
}

describe('a version of the bolster', () => {
  it('is made by an admin, with who and why in its history and in the trail, and the one before stays', async () => {
    const wanted = { ...facts, halves: { movingMm: 61, fixedMm: 59 }, halfMaterial: 'EN AW-7075-T6' };
    const body = { facts: wanted, basedOn: 1, why: 'Measured again' };
    const made = await post(`/bolsters/${bolsterId}/versions`, body).expect(201);
    expect(made.body).toMatchObject({ version: 2, mounted: true, halves: { movingMm: 61, fixedMm: 59 } });
    const { items } = (await get(`/bolsters/${bolsterId}/versions`).expect(200)).body;
    expect(items.map((one: object) => one)).toMatchObject([
      { version: 2, why: 'Measured again', madeBy: admin.member.displayName },
      { version: 1, why: null, madeBy: null, facts: { halves: { movingMm: 60, fixedMm: 60 } } },
    ]);
    const [told] = await database.query(
      `select details from audit_entry where action = 'bolster-revised' order by id desc limit 1`,
    );
    expect(told).toMatchObject({
      details: { version: 2, why: 'Measured again', changed: 'halfMovingMm, halfFixedMm, halfMaterial' },
    });
  });

  it.each([
    ['no hole', { holes: [] }, 'bolster-no-holes', undefined],
    [
      'two holes in one place',
      { holes: [...facts.holes, ...facts.holes.slice(0, 1)] },
      'bolster-hole-twice',
      { xMm: -80, yMm: -60 },
    ],
    [
      'holes that run into each other',
      { holes: [...facts.holes, { xMm: -76, yMm: -60, thread: 'M6', depthMm: 15, positionMm: 0.05 }] },
      'bolster-holes-overlap',
      { xMm: -80, yMm: -60 },
    ],
    [
      'a hole over the edge',
      { holes: [...facts.holes, { xMm: 98, yMm: 0, thread: 'M6', depthMm: 15, positionMm: 0.05 }] },
      'bolster-hole-off-face',
      { xMm: 98, yMm: 0 },
    ],
    [
      'a hole deeper than the half',
      { holes: [...facts.holes, { xMm: 60, yMm: 0, thread: 'M6', depthMm: 70, positionMm: 0.05 }] },
      'bolster-hole-too-deep',
      { xMm: 60, yMm: 0 },
    ],
    [
      'a hole in an opening',
      { face: { ...facts.face, openings: [square(60, 0, 20)] }, holes: [...facts.holes, holeAt(58, 2)] },
      'bolster-hole-in-opening',
      { xMm: 58, yMm: 2 },
    ],
    [
      'an opening over the edge',
      { face: { ...facts.face, openings: [square(98, 0, 20)] } },
      'bolster-opening-off-face',
      { xMm: 98, yMm: 0 },
    ],
    [
      'an opening that crosses itself',
      { face: { ...facts.face, openings: [bowTie()] } },
      'bolster-opening-crosses',
      { xMm: 60, yMm: 0 },
    ],
    [
      'a stack smaller than the daylight',
      { daylight: { minimumMm: 60, largestStackMm: 12 } },
      'bolster-stack-backwards',
      undefined,
    ],
    [
      'a sprue that narrows',
      { sprue: { ...facts.sprue, nozzleEndDiameterMm: 9 } },
      'bolster-sprue-narrows',
      undefined,
    ],
    [
      'a sprue beside the face',
      { face: { ...facts.face, centreXMm: 150 } },
      'bolster-sprue-off-face',
      undefined,
    ],
  ])('is refused with %s', async (_what, change, code, place) => {
    const basedOn = await latest(`/bolsters/${bolsterId}`);
    const body = { facts: { ...facts, ...change }, basedOn, why: 'Try' };
    const reply = await post(`/bolsters/${bolsterId}/versions`, body).expect(422);
    const reason = reply.body.reasons.find((one: { code: string }) => one.code === code);
    expect(codesOf(reply)).toContain(code);
    if (place !== undefined) expect(reason.place).toMatchObject(place);
    expect(await latest(`/bolsters/${bolsterId}`)).toBe(basedOn);
  });

  it.each([
    ['a number that is none', { ...facts, holes: [{ ...holeAt(0, 20), xMm: 'ten' }] }],
    ['a thread that there is not', { ...facts, holes: [{ ...holeAt(0, 20), thread: 'M7' }] }],
    ['a field that is none of its own', { ...facts, colour: 'red' }],
    ['an absurd length', { ...facts, sprue: { ...facts.sprue, lengthMm: 1e9 } }],
  ])('is not understood with %s', async (_what, wrong) => {
    await post(`/bolsters/${bolsterId}/versions`, { facts: wrong, basedOn: 2, why: 'Try' }).expect(400);
  });

  it('is not understood with a figure that is not finite', async () => {
    const body = JSON.stringify({ facts, basedOn: 2, why: 'Try' }).replace(
      '"lengthMm":20',
      '"lengthMm":1e999',
    );
    await api
      .post(`/api/v1/bolsters/${bolsterId}/versions`)
      .set(admin.headers)
      .set('content-type', 'application/json')
      .send(body)
      .expect(400);
  });

  it('changes nothing when it says the same, and is refused to who looked at an older one', async () => {
    const basedOn = await latest(`/bolsters/${bolsterId}`);
    const now = (await get(`/bolsters/${bolsterId}`)).body;
    const { id: _id, name: _name, version: _version, mounted: _mounted, pressId: _press, ...same } = now;
    const reply = await post(`/bolsters/${bolsterId}/versions`, { facts: same, basedOn, why: 'Same' });
    expect(codesOf(reply)).toEqual(['version-unchanged']);
    const late = await post(`/bolsters/${bolsterId}/versions`, { facts, basedOn: basedOn - 1, why: 'Late' });
    expect(codesOf(late)).toEqual(['changed-meanwhile']);
  });

  it('is made once when two admins change the same version at once', async () => {
    const basedOn = await latest(`/bolsters/${bolsterId}`);
    const change = (movingMm: number) =>
      post(`/bolsters/${bolsterId}/versions`, {
        facts: { ...facts, halves: { movingMm, fixedMm: 60 } },
        basedOn,
        why: 'At once',
      });
    const replies = await Promise.all([70, 71, 72, 73].map((movingMm) => change(movingMm)));
    expect(replies.map(({ status }) => status).sort()).toEqual([201, 409, 409, 409]);
    const lost = replies.filter(({ status }) => status === 409);
    for (const reply of lost) expect(codesOf(reply)).toEqual(['changed-meanwhile']);
    expect(await latest(`/bolsters/${bolsterId}`)).toBe(basedOn + 1);
  });
});

describe('a version of the press', () => {
  it('is made by an admin and told as a difference; unknown figures stay unknown', async () => {
    const wanted = { ...demoPress, openingStrokeMm: 200, chiller: null, dryCycleS: null };
    const seen = await post('/press/preview', { facts: wanted, basedOn: 1 }).expect(200);
    expect(seen.body.changed).toEqual([
      'openingStrokeMm',
      'dryCycleS',
      'chillerFlowLPerMin',
      'chillerWaterC',
    ]);
    await post('/press/versions', { facts: wanted, basedOn: 1, why: 'New cylinder' }).expect(201);
    const press = (await get('/press').expect(200)).body;
    expect(press).toMatchObject({ version: 2, openingStrokeMm: 200, chiller: null, dryCycleS: null });
    expect((await get('/press/versions')).body.items).toHaveLength(2);
  });

  it('is refused with a clamp range that runs backwards, to who looked at an older one, and to others', async () => {
    const backwards = { ...demoPress, clamp: { ...demoPress.clamp, minKn: 500, maxKn: 50 } };
    const reply = await post('/press/versions', { facts: backwards, basedOn: 2, why: 'Try' });
    expect(codesOf(reply)).toEqual(['press-clamp-backwards']);
    const late = await post('/press/versions', { facts: demoPress, basedOn: 1, why: 'Late' });
    expect(codesOf(late)).toEqual(['changed-meanwhile']);
    await post('/press/versions', { facts: demoPress, basedOn: 2, why: 'Try' }, steward).expect(403);
  });
});

describe('mounting', () => {
  it('puts another bolster in, once when two do it at once, and tells what went in', async () => {
    const added = await post('/bolsters', { name: 'Third', facts, why: 'Bought' }).expect(201);
    expect(added.body).toMatchObject({ mounted: false, version: 1 });
    const body = { insteadOf: bolsterId, why: 'For the spring' };
    const replies = await Promise.all([
      post(`/bolsters/${keyedBolsterId}/mounting`, body),
      post(`/bolsters/${added.body.id}/mounting`, body),
    ]);
    expect(replies.map(({ status }) => status).sort()).toEqual([201, 409]);
    const lost = replies.find(({ status }) => status === 409);
    expect(lost && codesOf(lost)).toEqual(['changed-meanwhile']);
    const mounted = await database.query('select id from bolster where mounted');
    expect(mounted).toHaveLength(1);
    const told = await database.query('select why from mounting');
    expect(told).toEqual([{ why: 'For the spring' }]);
  });

  it('refuses the one that is in already, and a name that another has', async () => {
    const [mounted] = await database.query<{ id: string }>('select id from bolster where mounted');
    const id = mounted?.id ?? '';
    const again = await post(`/bolsters/${id}/mounting`, { insteadOf: id, why: 'Again' });
    expect(codesOf(again)).toEqual(['bolster-mounted-already']);
    const same = await post('/bolsters', { name: 'KEYED', facts: bolsterOnWire(keyedBolster), why: 'Again' });
    expect(codesOf(same)).toEqual(['bolster-name-taken']);
  });
});

describe('out of service', () => {
  let pressEquipment = '';
  beforeAll(async () => {
    const [first] = (await get('/equipment').expect(200)).body.items;
    expect(first.kind).toBe('press');
    pressEquipment = first.id;
  });
  const span = (from: string, to: string) => ({
    startsAt: `2026-12-${from}:00Z`,
    endsAt: `2026-12-${to}:00Z`,
  });
  const take = (times: object, who = steward) =>
    post('/outages', { equipmentId: pressEquipment, ...times, reason: 'Oil change' }, who);
  const held = () =>
    database.query<{ purpose: string; from: string; to: string }>(
      `select purpose, to_char(starts_at, 'DD HH24:MI') as from, to_char(ends_at, 'DD HH24:MI') as to
       from reservation where equipment_id = $1 and released_at is null and starts_at > '2026-12-01'
       order by starts_at`,
      [pressEquipment],
    );

  it('is for stewards, and holds the time', async () => {
    await take(span('01T09:00', '01T12:00'), member).expect(403);
    const made = await take(span('01T09:00', '01T12:00')).expect(201);
    expect(made.body).toMatchObject({ reason: 'Oil change', endedAt: null });
    expect(await held()).toEqual([{ purpose: 'out-of-service', from: '01 09:00', to: '01 12:00' }]);
    const twice = await take(span('01T11:00', '01T13:00'));
    expect(codesOf(twice)).toEqual(['outage-overlaps']);
    await api.delete(`/api/v1/outages/${made.body.id}`).set(steward.headers).expect(200);
    expect(await held()).toEqual([]);
    const again = await api.delete(`/api/v1/outages/${made.body.id}`).set(steward.headers);
    expect(codesOf(again)).toEqual(['outage-already-over']);
  });

  it.each([
    ['backwards', span('02T12:00', '02T09:00'), 'outage-backwards'],
    [
      'in the past',
      { startsAt: '2026-11-01T09:00:00Z', endsAt: '2026-12-02T09:00:00Z' },
      'outage-in-the-past',
    ],
    ['for two years', { endsAt: '2028-12-02T09:00:00Z' }, 'outage-too-far-ahead'],
  ])('is refused %s', async (_how, times, code) => {
    expect(codesOf(await take(times))).toEqual([code]);
  });

  it('lies over a closure; whichever goes first, the other holds what is left', async () => {
    const closure = await post('/closures', { ...span('03T09:00', '03T15:00'), note: 'Away' }).expect(201);
    const outage = await take(span('03T12:00', '03T18:00')).expect(201);
    expect(await held()).toEqual([
      { purpose: 'closure', from: '03 09:00', to: '03 15:00' },
      { purpose: 'out-of-service', from: '03 15:00', to: '03 18:00' },
    ]);
    await api.delete(`/api/v1/closures/${closure.body.id}`).set(admin.headers).expect(200);
    expect(await held()).toEqual([
      { purpose: 'out-of-service', from: '03 12:00', to: '03 15:00' },
      { purpose: 'out-of-service', from: '03 15:00', to: '03 18:00' },
    ]);
    await post('/closures', { ...span('03T10:00', '03T16:00'), note: 'Away' }).expect(201);
    await api.delete(`/api/v1/outages/${outage.body.id}`).set(steward.headers).expect(200);
    expect(await held()).toEqual([
      { purpose: 'closure', from: '03 10:00', to: '03 12:00' },
      { purpose: 'closure', from: '03 12:00', to: '03 16:00' },
    ]);
  });
});

describe('inspections', () => {
  const inspected = (more: object = {}) => ({
    inspectedOn: '2025-11-24',
    inspectedBy: 'Ash & Daughters',
    intervalMonths: 12,
    note: 'Guards, hoses, stop: good.',
    ...more,
  });

  it('are due a number of months after, to the end of that day on the shop’s own clock', async () => {
    expect((await get('/inspections').expect(200)).body).toMatchObject({ dueAt: null, overdue: false });
    const made = await post('/inspections', inspected()).expect(201);
    expect(made.body).toMatchObject({ dueAt: '2026-11-25T00:00:00.000Z', inspectedOn: '2025-11-24' });
    expect((await get('/inspections')).body.overdue).toBe(true);
    await post('/inspections', inspected({ inspectedOn: '2026-06-30' })).expect(201);
    // In Dublin, where the summer's clock runs an hour ahead.
    expect((await get('/inspections')).body).toMatchObject({
      dueAt: '2027-06-30T23:00:00.000Z',
      overdue: false,
    });
  });

  it('are refused for a day to come or that there is not, and to stewards', async () => {
    expect(codesOf(await post('/inspections', inspected({ inspectedOn: '2026-11-26' })))).toEqual([
      'inspection-not-yet',
    ]);
    await post('/inspections', inspected({ inspectedOn: '2026-02-30' })).expect(400);
    await post('/inspections', inspected(), steward).expect(403);
  });
});

describe('the stock of facing plates and packers', () => {
  const packer = {
    kind: 'packer',
    name: 'Packer 8',
    thicknessMm: 8,
    widthMm: 150,
    heightMm: 120,
    material: 'steel',
    parallelWithinMm: 0.02,
    place: 'Bay 2',
  };

  it('is kept by stewards and seen by all', async () => {
    await post('/stack-parts', packer, member).expect(403);
    const made = await post('/stack-parts', packer, steward).expect(201);
    expect(made.body).toMatchObject({ ...packer, state: 'in-service', edition: 1, note: '' });
    expect((await get('/stack-parts').expect(200)).body.items).toHaveLength(1);
    expect(codesOf(await post('/stack-parts', { ...packer, name: 'packer 8' }))).toEqual([
      'stack-part-name-taken',
    ]);
    expect(codesOf(await post('/stack-parts', { ...packer, name: 'Odd', parallelWithinMm: 8 }))).toEqual([
      'stack-part-absurd',
    ]);
  });

  it('is edited once when two do it at once; retired, its name is free', async () => {
    const [part] = (await get('/stack-parts')).body.items;
    const edit = (change: object) =>
      api
        .patch(`/api/v1/stack-parts/${part.id}`)
        .set(steward.headers)
        .send({ basedOn: 1, ...change });
    const replies = await Promise.all([edit({ place: 'Bay 3' }), edit({ place: 'Bay 4' })]);
    expect(replies.map(({ status }) => status).sort()).toEqual([200, 409]);
    expect(codesOf(await edit({ basedOn: 2 }))).toEqual(['version-unchanged']);
    await edit({ basedOn: 2, state: 'retired' }).expect(200);
    const next = await post('/stack-parts', packer, steward).expect(201);
    expect(codesOf(await edit({ basedOn: 3, state: 'in-service' }))).toEqual(['stack-part-name-taken']);
    expect(next.body.id).not.toBe(part.id);
  });
});

function holeAt(xMm: number, yMm: number) {
  return { xMm, yMm, thread: 'M6', depthMm: 15, positionMm: 0.05 };
}

function square(xMm: number, yMm: number, sideMm: number) {
  const half = sideMm / 2;
  return [
    [-half, -half],
    [half, -half],
    [half, half],
    [-half, half],
  ].map(([dx = 0, dy = 0]) => ({ xMm: xMm + dx, yMm: yMm + dy }));
}

function bowTie() {
  return [
    [50, -10],
    [70, 10],
    [70, -10],
    [50, 10],
  ].map(([xMm = 0, yMm = 0]) => ({ xMm, yMm }));
}
