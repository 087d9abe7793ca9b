import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import type { SqlValue } from '../../server/database/queryable.js';
import { damageReply, damagesReply } from '../../server/plates/damage/schemas.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { cameraJpeg } from '../support/photographs.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody, sampleDxf } from '../support/plate-bodies.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const { bolsterId, keyedBolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house, 'member', []);
const bram = await signedInMember(house);
const odile = await signedInMember(house, 'steward');
const kept = await api
  .post('/api/v1/plates')
  .set(bram.headers)
  .send({ name: 'Spacer', ...plateBody() })
  .expect(201);
const plateId: string = kept.body.id;

type Headers = typeof wren.headers;
const ON_BOLSTER = `/api/v1/bolsters/${bolsterId}/damage`;
const ON_PLATE = `/api/v1/plates/${plateId}/damage`;
const DENT = { half: 'fixed', xMm: 12.5, yMm: -40, what: 'A dent, 2 mm wide.' };
const report = (address: string, body: object, headers: Headers = wren.headers) =>
  api.post(address).set(headers).send(body);
const noticesOf = (memberId: string, href: string) =>
  database.query<{ kind: string }>('select kind from notice where member_id = $1 and href = $2', [
    memberId,
    href,
  ]);

describe('damage to a bolster', () => {
  it('is reported by anybody, told to stewards, and closed once by one of them', async () => {
    const made = damageReply.decode((await report(ON_BOLSTER, DENT).expect(201)).body);
    expect(made).toMatchObject({ ...DENT, bolsterName: 'Grid', reportedBy: wren.member.displayName });
    const href = `/damage/${made.id}`;
    expect(await noticesOf(odile.member.id, href)).toEqual([{ kind: 'damage-reported' }]);
    const desk = await api.get('/api/v1/desk').set(odile.headers).expect(200);
    expect(desk.body.items).toContainEqual(
      expect.objectContaining({ href, group: 'today', verdict: 'caution' }),
    );
    const close = (headers: Headers, done = 'Stoned flat.') =>
      api.post(`/api/v1${href}/closing`).set(headers).send({ done });
    await close(wren.headers).expect(403);
    await close(odile.headers, ' ').expect(400);
    const closed = damageReply.decode((await close(odile.headers).expect(201)).body);
    expect(closed).toMatchObject({ done: 'Stoned flat.', closedBy: odile.member.displayName });
    expect(codesOf(await close(odile.headers).expect(409))).toEqual(['damage-closed']);
    expect(await noticesOf(wren.member.id, href)).toEqual([{ kind: 'damage-closed' }]);
    const { items } = damagesReply.decode((await api.get(ON_BOLSTER).set(bram.headers).expect(200)).body);
    expect(items.find(({ id }) => id === made.id)?.done).toBe('Stoned flat.');
    const trail = await database.query<{ action: string }>(
      `select action from audit_entry where subject_kind = 'bolster' and details ->> 'damageId' = $1 order by id`,
      [made.id],
    );
    expect(trail.map(({ action }) => action)).toEqual(['damage-reported', 'damage-closed']);
  });

  it.each([
    [{ ...DENT, half: 'upper' }, 400, 'field-invalid', 'half'],
    [{ ...DENT, what: '' }, 400, 'field-invalid', 'what'],
    [{ ...DENT, xMm: 'left' }, 400, 'field-invalid', 'xMm'],
    [{ ...DENT, guilty: 'Bram' }, 400, 'field-invalid', 'guilty'],
    [{ ...DENT, xMm: 180 }, 422, 'damage-beside', 'xMm'],
    [{ ...DENT, yMm: -81.5 }, 422, 'damage-beside', 'yMm'],
    [{ ...DENT, photograph: 'a.jpg' }, 422, 'photograph-not-read', 'photograph'],
  ])('is refused where it cannot be: %j', async (body, status, code, field) => {
    const reply = await report(ON_BOLSTER, body).expect(status);
    expect(codesOf(reply)).toEqual([code]);
    expect(reply.body.reasons[0].field).toBe(field);
  });

  it('is of a bolster that is there', async () => {
    const nowhere = '/api/v1/bolsters/00000000-0000-4000-8000-000000000000/damage';
    await report(nowhere, DENT).expect(404);
    await api.get(nowhere).set(wren.headers).expect(404);
  });

  it('may come with a photograph, which whoever reports it may keep', async () => {
    const reply = await api
      .post(ON_BOLSTER)
      .set(wren.headers)
      .field({ half: 'moving', xMm: '−20,5', yMm: '3', what: 'A burr.' })
      .attach('photograph', await cameraJpeg(), 'burr.jpg')
      .expect(201);
    const { photographId, xMm } = damageReply.decode(reply.body);
    expect(xMm).toBe(-20.5);
    await api.get(`/api/v1/photographs/${photographId}`).set(bram.headers).expect(200);
    const bad = await api
      .post(ON_BOLSTER)
      .set(wren.headers)
      .field({ half: 'moving', xMm: '0', yMm: '3', what: 'A burr.' })
      .attach('photograph', Buffer.from('not one'), 'burr.jpg')
      .expect(422);
    expect(codesOf(bad)).toEqual(['photograph-not-read']);
  });
});

describe('damage to a plate', () => {
  it('is reported by who may see the plate; its owner and stewards are told', async () => {
    await report(ON_PLATE, { xMm: 1, yMm: 1, what: 'A scratch.' }).expect(404);
    await api.get(ON_PLATE).set(wren.headers).expect(404);
    await api.patch(`/api/v1/plates/${plateId}`).set(bram.headers).send({ sharing: 'see' }).expect(200);
    const made = damageReply.decode(
      (await report(ON_PLATE, { xMm: 1, yMm: 1, what: 'A scratch.' }).expect(201)).body,
    );
    expect(made).toMatchObject({ plateName: 'Spacer', revision: 1, half: null, bolsterId: null });
    for (const one of [bram, odile])
      expect(await noticesOf(one.member.id, `/damage/${made.id}`)).toEqual([{ kind: 'damage-reported' }]);
    const beside = await report(ON_PLATE, { xMm: 400, yMm: 1, what: 'A scratch.' }).expect(422);
    expect(codesOf(beside)).toEqual(['damage-beside']);
    await api.patch(`/api/v1/plates/${plateId}`).set(bram.headers).send({ sharing: 'nobody' }).expect(200);
    await api.get(`/api/v1/damage/${made.id}`).set(wren.headers).expect(404);
  });
});

describe('whoever writes, damage', () => {
  const now = house.clock.now();
  const whole = { x_mm: 0, y_mm: 0, what: 'A dent.', reported_by: wren.member.id, reported_at: now };

  async function insert(row: { readonly [column: string]: SqlValue }, table = 'damage') {
    const columns = Object.keys(row);
    const places = columns.map((_, i) => `$${i + 1}`);
    try {
      await database.query(`insert into ${table} (${columns}) values (${places})`, Object.values(row));
      return 'nothing';
    } catch (error) {
      return pgFaultOf(error)?.constraint;
    }
  }

  const ofBolster = { ...whole, bolster_id: keyedBolsterId, half: 'moving' };
  it.each<[string, { readonly [column: string]: SqlValue }, string]>([
    ['of nothing', whole, 'damage_of_one'],
    ['of a bolster and a plate', { ...ofBolster, plate_id: plateId, revision: 1 }, 'damage_of_one'],
    ['of no half', { ...whole, bolster_id: keyedBolsterId }, 'damage_of_one'],
    ['of a third half', { ...ofBolster, half: 'upper' }, 'damage_half'],
    ['far beside', { ...ofBolster, x_mm: 2001 }, 'damage_x'],
    ['that says nothing', { ...ofBolster, what: ' ' }, 'damage_what_length'],
    ['of a revision there is none of', { ...whole, plate_id: plateId, revision: 9 }, 'damage_revision'],
  ])('%s is refused', async (_what, row, constraint) => {
    expect(await insert(row)).toBe(constraint);
  });

  it('shows a photograph of itself alone', async () => {
    const [photograph] = await database.query<{ id: string }>(
      'select id from photograph where bolster_id = $1',
      [bolsterId],
    );
    expect(await insert({ ...ofBolster, photograph_id: photograph?.id ?? '' })).toBe('damage_own_photograph');
  });

  it('is never changed, taken away or closed twice, nor before it was reported', async () => {
    const [row] = await database.query<{ id: string }>('select damage_id as id from damage_closing limit 1');
    const damageId = row?.id ?? '';
    const closing = { damage_id: damageId, closed_by: odile.member.id, closed_at: now, done: 'Again.' };
    expect(await insert(closing, 'damage_closing')).toBe('damage_closing_pkey');
    const [open] = await database.query<{ id: string }>(
      'select id from damage d where not exists (select from damage_closing where damage_id = d.id) limit 1',
    );
    const early = { ...closing, damage_id: open?.id ?? '', closed_at: LONG_AGO };
    expect(await insert(early, 'damage_closing')).toBe('damage_closing_order');
    for (const sql of [
      `update damage set what = 'Nothing'`,
      'delete from damage',
      `update damage_closing set done = 'Nothing'`,
      'delete from damage_closing',
      'truncate damage cascade',
    ])
      await expect(database.query(sql), sql).rejects.toThrow();
  });
});

describe('pages of damage', async () => {
  const visitor = visitorOf(house);
  await visitor.signIn(wren.member);

  it('take the place in figures, and say what is wrong at the field', async () => {
    const page = `/bolsters/${keyedBolsterId}/damage`;
    const wrong = await visitor.fill(page, page, { half: 'moving', xMm: '', yMm: '4', what: 'A dent.' });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('or pick the place on the picture');
    expect(wrong.text).toContain('A dent.</textarea>');
    const beside = await visitor.fill(page, page, { half: 'moving', xMm: '500', yMm: '4', what: 'A dent.' });
    expect(beside.status).toBe(422);
    expect(beside.text).toContain('beside the face');
    const sent = await visitor.fill(page, page, { half: 'fixed', xMm: '−4,5', yMm: '4', what: 'A dent.' });
    expect(sent.status).toBe(303);
    const told = await visitor.get(sent.headers.location ?? '').expect(200);
    expect(told.text).toContain('Fixed half, x −4.5, y 4.0 mm');
    expect(told.text).toContain('The stewards are told');
    const list = await visitor.get(page).expect(200);
    expect(list.text).toContain('ps-balloon-ring');
  });

  it('number open damage on the bolster’s own sheet, and closed damage no more', async () => {
    const { text } = await visitor.get(`/bolsters/${keyedBolsterId}`).expect(200);
    expect(text).toContain('ps-balloon-ring');
    expect(text).toContain('A dent.');
    const [row] = await database.query<{ id: string }>('select id from damage where bolster_id = $1', [
      keyedBolsterId,
    ]);
    const steward = visitorOf(house);
    await steward.signIn(odile.member);
    const page = `/damage/${row?.id}`;
    expect((await steward.fill(page, `${page}/close`, { done: 'Stoned.' })).status).toBe(303);
    const after = await visitor.get(`/bolsters/${keyedBolsterId}`).expect(200);
    expect(after.text).not.toContain('ps-balloon-ring');
    expect((await visitor.get(page).expect(200)).text).toContain('Stoned.');
  });
});

it('is a notice on the check of a plate that lies over it, and no finding', async () => {
  const dxf = sampleDxf('tile-spacer-4up');
  const agent = visitorOf(house);
  await agent.signIn(bram.member);
  const { text: before } = await agent.get('/check?sample=tile-spacer-4up').expect(200);
  // Open so far: the burr, behind the plate.
  expect(before.match(/Damage on the bolster/g)).toHaveLength(1);
  expect(before).toContain('lies behind the plate, which rests on it');
  const made = await report(ON_BOLSTER, { half: 'fixed', xMm: 0, yMm: 0, what: 'At the sprue.' }).expect(201);
  await report(ON_BOLSTER, { half: 'fixed', xMm: 99, yMm: 79, what: 'In the corner.' }).expect(201);
  const { text: after } = await agent.get('/check?sample=tile-spacer-4up').expect(200);
  expect(after.match(/Damage on the bolster/g)).toHaveLength(2);
  expect(after).toContain('lies opposite a cut');
  expect(after).not.toContain('In the corner');
  expect(after).toContain(`/damage/${made.body.id}`);
  const check = async () => {
    const reply = await api
      .post('/api/v1/checks')
      .send({ plate: { ...plateBody('tile-spacer-4up'), dxf }, resin: { polymer: 'PP' } })
      .expect(200);
    return JSON.stringify(reply.body);
  };
  expect(await check()).not.toContain('At the sprue');
});

it('is nothing that a stranger who checks a drawing is told', async () => {
  const { text } = await visitorOf(house).get('/check?sample=tile-spacer-4up').expect(200);
  expect(text).toContain('ps-stamp');
  expect(text).not.toContain('Damage on the bolster');
});
