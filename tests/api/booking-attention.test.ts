import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { groundChanges } from '../support/ground-changes.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { codesOf, visitorOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

/** A Monday, 08:00 in Dublin. */
const NOW = '2026-11-23T08:00:00Z';

const database = await testDatabase();
const house = await testHouse(database, { at: NOW });
const { pressId, bolsterId, keyedBolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const odile = await signedInMember(house, 'steward');
const maren = await signedInMember(house, 'admin');
const ground = groundChanges(house, maren.headers);

type Headers = { readonly authorization: string };

let slots = 0;

/** Two hours that no other test of this file uses, on Tuesdays to Fridays. */
function freshSlot() {
  const days = Math.floor(slots / 4);
  const day = 24 + 7 * Math.floor(days / 4) + (days % 4);
  const startsAt = new Date(Date.UTC(2026, 10, day, 9 + 2 * (slots % 4)));
  slots += 1;
  return { startsAt: startsAt.toISOString(), endsAt: new Date(startsAt.getTime() + 7_200_000).toISOString() };
}

/** A member with a plate that is cleared in PP. */
async function member(more: object = {}) {
  const made = await signedInMember(house);
  const body = { name: 'Tile spacer', ...plateBody('tile-spacer-4up', more) };
  const plateId: string = (await api.post('/api/v1/plates').set(made.headers).send(body).expect(201)).body.id;
  await clearPlate(house, { plateId });
  return { ...made, plateId };
}

function book(headers: Headers, plateId: string, more: object = {}) {
  const body = { plateId, revision: 1, polymer: 'PP', ...freshSlot(), ...more };
  return api.post('/api/v1/bookings').set(headers).send(body);
}

async function booked() {
  const made = await member();
  const bookingId: string = (await book(made.headers, made.plateId).expect(201)).body.id;
  return { ...made, bookingId };
}

async function seen(bookingId: string) {
  const { body } = await api.get(`/api/v1/bookings/${bookingId}`).set(odile.headers).expect(200);
  return {
    status: body.status,
    codes: body.attention.map(({ code }: { code: string }) => code).sort(),
    attention: body.attention,
  };
}

const FIT = { status: 'booked', codes: [] as string[] };
const lost = (...codes: string[]) => ({ status: 'needs-attention', codes: codes.sort() });

/** Kinds of what a member was told about their booking, in order. */
async function toldOf(memberId: string, bookingId: string): Promise<readonly string[]> {
  const rows = await database.query<{ kind: string }>(
    'select kind from notice where member_id = $1 and href = $2 order by created_at, id',
    [memberId, `/bookings/${bookingId}`],
  );
  return rows.map(({ kind }) => kind).sort();
}

async function signOffOf(headers: Headers, competence: string): Promise<string> {
  const { body } = await api.get('/api/v1/signoffs').set(headers).expect(200);
  return body.items.find((one: { competence: string }) => one.competence === competence).id;
}

const revoke = async (headers: Headers, competence: string) =>
  api
    .delete(`/api/v1/signoffs/${await signOffOf(headers, competence)}`)
    .set(odile.headers)
    .send({ reason: 'Ran alone.' })
    .expect(200);
const sign = (memberId: string, competence: string) =>
  api
    .post('/api/v1/signoffs')
    .set(odile.headers)
    .send({ memberId, competence, note: 'Seen done.' })
    .expect(201);
const decide = (plateId: string, body: object) =>
  api.post(`/api/v1/plates/${plateId}/revisions/1/clearance`).set(odile.headers).send(body);

describe('a booking that lost something', () => {
  it('says each thing, tells of each, and is booked again when the last is there', async () => {
    const { bookingId, member: wren, headers } = await booked();
    await revoke(headers, 'plate-change');
    expect(await seen(bookingId)).toMatchObject(lost('signoff-missing'));
    await revoke(headers, 'press-operation');
    const both = await seen(bookingId);
    expect(both).toMatchObject(lost('signoff-missing', 'signoff-missing'));
    expect(both.attention.map(({ message }: { message: string }) => message)).toEqual([
      expect.stringContaining(': Plate change.'),
      expect.stringContaining(': Press operation.'),
    ]);
    expect(both.attention[0]).toEqual({
      code: 'signoff-missing',
      message: expect.any(String),
      fix: expect.stringContaining('ask for a witness'),
      since: NOW.replace('Z', '.000Z'),
    });
    const twice = ['booking-needs-attention', 'booking-needs-attention'];
    expect(await toldOf(wren.id, bookingId)).toEqual(twice);
    expect(await toldOf(odile.member.id, bookingId)).toEqual(twice);

    await sign(wren.id, 'plate-change');
    expect(await seen(bookingId)).toMatchObject(lost('signoff-missing'));
    await sign(wren.id, 'press-operation');
    expect(await seen(bookingId)).toMatchObject(FIT);
    expect(await toldOf(wren.id, bookingId)).toEqual(['booking-fit-again', ...twice]);

    await revoke(headers, 'plate-change');
    expect(await seen(bookingId)).toMatchObject(lost('signoff-missing'));
    expect(await toldOf(wren.id, bookingId)).toEqual(['booking-fit-again', ...twice, twice[0]]);
  });

  it('says it on its page, with what to do and where, and to stewards on the desk', async () => {
    const { bookingId, member: wren, headers, plateId } = await booked();
    await revoke(headers, 'plate-change');
    await decide(plateId, { step: 'production', decision: 'refuse', note: 'Flash at the gate.' }).expect(201);
    const visitor = visitorOf(house);
    await visitor.signIn(wren);
    const { text } = await visitor.get(`/bookings/${bookingId}`).expect(200);
    expect(text).toContain('A sign-off is missing for all of that time: Plate change.');
    expect(text).toContain('href="/inductions">See the inductions');
    expect(text).toContain('not cleared for production on the mounted bolster: it is tried');
    expect(text).toContain(`href="/plates/${plateId}?polymer&#x3D;PP">See the plate`);
    expect(text).toContain('lost since Mon 23 Nov 2026, 08:00');
    expect(text).not.toContain('href="/desk"');
    const steward = visitorOf(house);
    await steward.signIn(odile.member);
    expect((await steward.get('/desk').expect(200)).text).toContain(
      'The plate is not cleared for production on the mounted bolster',
    );
    expect((await steward.get(`/bookings/${bookingId}`).expect(200)).text).toContain('href="/desk"');
  });
});

describe('what a booking can lose and regain', () => {
  it('its member, who is suspended', async () => {
    const { bookingId, member: wren } = await booked();
    const suspension = `/api/v1/members/${wren.id}/suspension`;
    await api.post(suspension).set(odile.headers).send({ reason: 'Bypassed a guard.' });
    expect(await seen(bookingId)).toMatchObject(lost('member-suspended'));
    await api.delete(suspension).set(odile.headers).send({ reason: 'Shown again.' }).expect(200);
    expect(await seen(bookingId)).toMatchObject(FIT);
  });

  it('its clearance, refused and given again', async () => {
    const { bookingId, plateId } = await booked();
    await decide(plateId, { step: 'production', decision: 'refuse', note: 'Flash.' }).expect(201);
    expect(await seen(bookingId)).toMatchObject(lost('plate-not-cleared'));
    await decide(plateId, { step: 'production', decision: 'clear', polymers: ['HDPE'], note: 'Only this.' });
    expect(await seen(bookingId)).toMatchObject(lost('not-cleared-for-resin'));
    await decide(plateId, { step: 'production', decision: 'clear', polymers: ['PP'], note: 'And this.' });
    expect(await seen(bookingId)).toMatchObject(FIT);
  });

  it('its metal, reworked and measured again', async () => {
    const { bookingId, plateId, headers } = await booked();
    await api
      .post(`/api/v1/plates/${plateId}/revisions/1/rework`)
      .set(headers)
      .send({ reason: 'Gate opened.' });
    expect(await seen(bookingId)).toMatchObject(lost('plate-not-cleared'));
    await clearPlate(house, { plateId });
    expect(await seen(bookingId)).toMatchObject(FIT);
  });

  it('the leave of the plate’s owner', async () => {
    const owner = await member();
    const share = (sharing: string) =>
      api.patch(`/api/v1/plates/${owner.plateId}`).set(owner.headers).send({ sharing }).expect(200);
    await share('run');
    const runner = await signedInMember(house);
    const bookingId = (await book(runner.headers, owner.plateId).expect(201)).body.id;
    await share('see');
    expect(await seen(bookingId)).toMatchObject(lost('plate-not-shared'));
    await share('run');
    expect(await seen(bookingId)).toMatchObject(FIT);
  });

  it('its plate, retired and taken up again', async () => {
    const { bookingId, plateId, headers } = await booked();
    const retire = (retired: boolean) =>
      api.patch(`/api/v1/plates/${plateId}`).set(headers).send({ retired }).expect(200);
    await retire(true);
    expect(await seen(bookingId)).toMatchObject(lost('plate-retired'));
    expect(codesOf(await book(headers, plateId))).toContain('plate-retired');
    await retire(false);
    expect(await seen(bookingId)).toMatchObject(FIT);
  });

  it('its opening hours, under rules that are set and set back', async () => {
    const { bookingId } = await booked();
    const rules = (changes: object) =>
      api.post('/api/v1/shop-rules').set(maren.headers).send({ changes }).expect(201);
    const [now] = (await api.get('/api/v1/shop-rules').set(maren.headers).expect(200)).body.items;
    const { openingHours } = now.rules;
    const closed = Object.fromEntries(Object.keys(openingHours).map((day) => [day, []]));
    await rules({ openingHours: closed });
    expect(await seen(bookingId)).toMatchObject(lost('booking-outside-opening-hours'));
    await rules({ openingHours });
    expect(await seen(bookingId)).toMatchObject(FIT);
  });

  it('the press, out of service and put back', async () => {
    const { bookingId } = await booked();
    const { body } = await api.get(`/api/v1/bookings/${bookingId}`).set(odile.headers).expect(200);
    const [equipment] = await database.query<{ id: string }>('select id from equipment where press_id = $1', [
      pressId,
    ]);
    const { startsAt, endsAt } = body;
    const outage = { equipmentId: equipment?.id, startsAt, endsAt, reason: 'A hose leaks.' };
    const made = await api.post('/api/v1/outages').set(odile.headers).send(outage).expect(201);
    expect(await seen(bookingId)).toMatchObject(lost('press-out-of-service'));
    await api.delete(`/api/v1/outages/${made.body.id}`).set(odile.headers).expect(200);
    expect(await seen(bookingId)).toMatchObject(FIT);
  });

  it('its bolster: another one mounted, and the old one back', async () => {
    const { bookingId } = await booked();
    expect((await ground.mount(keyedBolsterId)).status).toBe(201);
    expect((await seen(bookingId)).codes).toContain('plate-not-cleared');
    expect((await ground.mount(bolsterId)).status).toBe(201);
    expect(await seen(bookingId)).toMatchObject(FIT);
  });

  it('a check that says more since the press has another version, until a steward accepts it', async () => {
    const { bookingId, plateId, member: wren } = await booked();
    const preview = await ground.editPress(60, true);
    expect(preview.body.bookings).toContainEqual(expect.objectContaining({ bookingId }));
    const ofPlate = preview.body.plates.find((one: { plateId: string }) => one.plateId === plateId);
    expect(ofPlate.worse).toContainEqual(expect.objectContaining({ check: 'clamp-force', before: 'clear' }));
    const reports = () => database.query('select from plate_report where plate_id = $1', [plateId]);
    const before = (await reports()).length;
    expect((await ground.editPress(60)).status).toBe(201);
    expect((await reports()).length).toBe(before + 1);
    expect((await seen(bookingId)).codes).toContain('report-has-stop');
    const told = await database.query(
      `select from notice where member_id = $1 and kind = 'plate-says-worse'`,
      [wren.id],
    );
    expect(told).toHaveLength(1);
    const steward = visitorOf(house);
    await steward.signIn(odile.member);
    expect((await steward.get('/desk').expect(200)).text).toContain(
      'Says more than before: Tile spacer, in PP',
    );
    const page = (await steward.get(`/plates/${plateId}?polymer=PP`).expect(200)).text;
    expect(page).toContain('Why: the press has a new version.');
    expect((await ground.editPress(500)).status).toBe(201);
    expect(await seen(bookingId)).toMatchObject(FIT);
    expect((await steward.get('/desk').expect(200)).text).not.toContain('Says more than before');
  });
});

describe('what is done decides which sign-offs are asked', () => {
  it('the drying oven for a resin that takes up water, the granulator for grinding up', async () => {
    const { plateId, headers, member: wren } = await member();
    await decide(plateId, { step: 'production', decision: 'clear', polymers: ['PC'], note: 'PC.' });
    const dry = await book(headers, plateId, { polymer: 'PC' });
    expect(dry.body.reasons.map(({ message }: { message: string }) => message).join(' ')).toContain(
      ': Drying oven.',
    );
    const ground = await book(headers, plateId, { granulate: true });
    expect(codesOf(ground)).toEqual(['signoff-missing']);
    expect(ground.body.reasons[0].message).toContain(': Granulator.');
    await sign(wren.id, 'granulator');
    const made = await book(headers, plateId, { granulate: true }).expect(201);
    expect(made.body).toMatchObject({ granulate: true, attention: [] });
    const visitor = visitorOf(house);
    await visitor.signIn(wren);
    const page = (await visitor.get(`/bookings/${made.body.id}`).expect(200)).text;
    expect(page).toContain('you grind up sprues and rejects afterwards');
    expect(page).not.toContain('is dried before');
    const form = (await visitor.get('/bookings/new?polymer=PC').expect(200)).text;
    expect(form).toContain('PC takes up water and is dried before');
  });
});

describe('a trial', () => {
  it('is booked on a plate that is measured, before production and after', async () => {
    const made = await signedInMember(house);
    const body = { name: 'Tile spacer', ...plateBody() };
    const plateId = (await api.post('/api/v1/plates').set(made.headers).send(body).expect(201)).body.id;
    const trial = { bookingKind: 'trial' };
    expect(codesOf(await book(made.headers, plateId, trial))).toEqual(['plate-not-measured']);
    expect(codesOf(await book(made.headers, plateId))).toEqual(['plate-not-cleared']);
    await clearPlate(house, { plateId, through: 'fit' });
    const { body: first } = await book(made.headers, plateId, trial).expect(201);
    expect(first).toMatchObject({ bookingKind: 'trial', clearanceId: expect.any(String) });
    expect(codesOf(await book(made.headers, plateId))).toEqual(['plate-not-cleared']);
    await decide(plateId, { step: 'trial', decision: 'clear', note: 'Full at the third shot.' }).expect(201);
    await decide(plateId, { step: 'production', decision: 'clear', polymers: ['PP'], note: 'Good.' });
    await book(made.headers, plateId, trial).expect(201);
    await book(made.headers, plateId).expect(201);
    await decide(plateId, { step: 'fit', decision: 'void', note: 'Dropped.' }).expect(201);
    expect(await seen(first.id)).toMatchObject(lost('plate-not-measured'));
  });
});

describe('the step of the shop’s clock', () => {
  it.each([
    ['a start beside it', { startsAt: '2026-12-10T09:10:00Z', endsAt: '2026-12-10T10:00:00Z' }, 'startsAt'],
    ['an end beside it', { startsAt: '2026-12-10T09:00:00Z', endsAt: '2026-12-10T09:59:59Z' }, 'endsAt'],
  ])('refuses %s', async (_what, span, field) => {
    const { headers, plateId } = await member();
    const reply = await book(headers, plateId, span);
    expect(reply.body.reasons).toMatchObject([{ code: 'booking-off-step', field }]);
    expect(reply.body.reasons[0].message).toContain('every 15 minutes');
  });
});
