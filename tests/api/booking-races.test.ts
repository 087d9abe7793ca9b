import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import type { Tx } from '../../server/database/transaction.js';
import { PRE_USE_LINES } from '../../server/runs/pre-use.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { groundChanges } from '../support/ground-changes.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { codesOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';
import { inThisOrder } from '../support/waiting.js';

/** Each race is run in both orders, forced behind what both of them need. */
const database = await testDatabase();
const settings = { sessionIdleMinutes: 24 * 60 };
const house = await testHouse(database, { at: '2026-11-23T08:00:00Z', settings });
const { pressId, bolsterId, keyedBolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const odile = await signedInMember(house, 'steward');
const maren = await signedInMember(house, 'admin');
const ground = groundChanges(house, maren.headers);

type Headers = { readonly authorization: string };

let slots = 0;

function freshSlot() {
  const startsAt = new Date(Date.UTC(2026, 10, 23, 9 + slots));
  slots += 1;
  return { startsAt: startsAt.toISOString(), endsAt: new Date(startsAt.getTime() + 3_600_000).toISOString() };
}

/** Somebody with a plate that is cleared for production in PP. */
async function owner() {
  const made = await signedInMember(house);
  const body = { name: 'Tile spacer', ...plateBody() };
  const plateId: string = (await api.post('/api/v1/plates').set(made.headers).send(body).expect(201)).body.id;
  await clearPlate(house, { plateId });
  return { ...made, plateId };
}

const book = (headers: Headers, plateId: string, slot: object) => () =>
  api
    .post('/api/v1/bookings')
    .set(headers)
    .send({ plateId, revision: 1, polymer: 'PP', ...slot });
const decide = (plateId: string, body: object) => () =>
  api.post(`/api/v1/plates/${plateId}/revisions/1/clearance`).set(odile.headers).send(body);
const revise = (headers: Headers, plateId: string) => () =>
  api.post(`/api/v1/plates/${plateId}/revisions`).set(headers).send(plateBody());
const share = (headers: Headers, plateId: string, sharing: string) => () =>
  api.patch(`/api/v1/plates/${plateId}`).set(headers).send({ sharing });

const holdsPlate = (plateId: string) => (tx: Tx) =>
  tx.query('select from plate where id = $1 for no key update', [plateId]);
const holdsPress = (tx: Tx) => tx.query('select from press where id = $1 for no key update', [pressId]);
const holdsBooking = (id: string) => (tx: Tx) =>
  tx.query('select from booking where id = $1 for no key update', [id]);

async function seen(bookingId: string) {
  const { body } = await api.get(`/api/v1/bookings/${bookingId}`).set(odile.headers).expect(200);
  return [body.status, ...body.attention.map(({ code }: { code: string }) => code)];
}

async function reached(plateId: string, revision: number): Promise<string> {
  const address = `/api/v1/plates/${plateId}/revisions/${revision}/clearance`;
  return (await api.get(address).set(odile.headers).expect(200)).body.reached;
}

describe('clearing against revising', () => {
  const refuse = { step: 'production', decision: 'refuse', note: 'Flash.' };
  const clear = { step: 'production', decision: 'clear', polymers: ['PP'], note: 'Good.' };

  it('cleared first: the clearance stands for a moment, and then for nothing', async () => {
    const { headers, plateId } = await owner();
    await decide(plateId, refuse)().expect(201);
    const racing = [decide(plateId, clear), revise(headers, plateId)] as const;
    const [cleared, revised] = await inThisOrder(database, holdsPlate(plateId), ...racing);
    expect([cleared.status, revised.status]).toEqual([201, 201]);
    expect(await reached(plateId, 2)).toBe('none');
    expect(codesOf(await book(headers, plateId, freshSlot())())).toEqual(['revision-not-latest']);
  });

  it('revised first: there is nothing left to clear', async () => {
    const { headers, plateId } = await owner();
    await decide(plateId, refuse)().expect(201);
    const racing = [revise(headers, plateId), decide(plateId, clear)] as const;
    const [revised, cleared] = await inThisOrder(database, holdsPlate(plateId), ...racing);
    expect(revised.status).toBe(201);
    expect(codesOf(cleared)).toContain('revision-not-latest');
  });
});

describe('refusing a plate against booking it', () => {
  const refuse = { step: 'production', decision: 'refuse', note: 'Flash.' };

  it('booked first: the booking stands and needs attention', async () => {
    const { headers, plateId } = await owner();
    const racing = [book(headers, plateId, freshSlot()), decide(plateId, refuse)] as const;
    const [booked, refused] = await inThisOrder(database, holdsPlate(plateId), ...racing);
    expect([booked.status, refused.status]).toEqual([201, 201]);
    expect(await seen(booked.body.id)).toEqual(['needs-attention', 'plate-not-cleared']);
  });

  it('refused first: there is no booking', async () => {
    const { headers, plateId } = await owner();
    const racing = [decide(plateId, refuse), book(headers, plateId, freshSlot())] as const;
    const [refused, booked] = await inThisOrder(database, holdsPlate(plateId), ...racing);
    expect(refused.status).toBe(201);
    expect(codesOf(booked)).toEqual(['plate-not-cleared']);
  });
});

describe('mounting another bolster against booking', () => {
  it('booked first: the booking stands and needs attention', async () => {
    const { headers, plateId } = await owner();
    const racing = [book(headers, plateId, freshSlot()), () => ground.mount(keyedBolsterId)] as const;
    const [booked, mounted] = await inThisOrder(database, holdsPress, ...racing);
    expect([booked.status, mounted.status]).toEqual([201, 201]);
    expect(await seen(booked.body.id)).toContain('plate-not-cleared');
    expect((await ground.mount(bolsterId)).status).toBe(201);
    expect(await seen(booked.body.id)).toEqual(['booked']);
  });

  it('mounted first: there is no booking', async () => {
    const { headers, plateId } = await owner();
    const racing = [() => ground.mount(keyedBolsterId), book(headers, plateId, freshSlot())] as const;
    const [mounted, booked] = await inThisOrder(database, holdsPress, ...racing);
    expect(mounted.status).toBe(201);
    expect(codesOf(booked)).toContain('plate-not-cleared');
    expect((await ground.mount(bolsterId)).status).toBe(201);
  });
});

describe('taking the press out of service against moving a booking within that time', () => {
  const [from, until] = ['2026-12-07T10:00:00Z', '2026-12-07T16:00:00Z'];
  const slot = { startsAt: '2026-12-07T11:00:00Z', endsAt: '2026-12-07T12:00:00Z' };
  const move = (headers: Headers, id: string) => () =>
    api
      .patch(`/api/v1/bookings/${id}`)
      .set(headers)
      .send({ startsAt: '2026-12-07T13:00:00Z', endsAt: '2026-12-07T14:00:00Z' });
  const takeOut = () =>
    database
      .query<{ id: string }>('select id from equipment where press_id = $1', [pressId])
      .then(([equipment]) =>
        api
          .post('/api/v1/outages')
          .set(odile.headers)
          .send({ equipmentId: equipment?.id, startsAt: from, endsAt: until, reason: 'A hose leaks.' }),
      );

  it.each(['moved', 'taken out'])('%s first: the booking says what it has lost, once', async (first) => {
    const wren = await owner();
    const made = await book(wren.headers, wren.plateId, slot)();
    const id: string = made.body.id;
    const [moved, out] =
      first === 'moved'
        ? await inThisOrder(database, holdsBooking(id), move(wren.headers, id), takeOut)
        : [...(await inThisOrder(database, holdsBooking(id), takeOut, move(wren.headers, id)))].reverse();
    expect(out?.status).toBe(201);
    expect(moved?.status).toBe(first === 'moved' ? 200 : 409);
    const { body } = await api.get(`/api/v1/bookings/${id}`).set(wren.headers).expect(200);
    expect(body.attention.map(({ code }: { code: string }) => code)).toEqual(['press-out-of-service']);
    await api.delete(`/api/v1/outages/${out?.body.id}`).set(odile.headers).expect(200);
    await api.delete(`/api/v1/bookings/${id}`).set(wren.headers).send({ reason: 'Done.' });
  });
});

describe('ending a plate’s sharing against booking it', () => {
  it('booked first: the booking stands and needs attention', async () => {
    const { headers, plateId } = await owner();
    await share(headers, plateId, 'run')().expect(200);
    const other = await signedInMember(house);
    const racing = [book(other.headers, plateId, freshSlot()), share(headers, plateId, 'nobody')] as const;
    const [booked, ended] = await inThisOrder(database, holdsPlate(plateId), ...racing);
    expect([booked.status, ended.status]).toEqual([201, 200]);
    expect(await seen(booked.body.id)).toEqual(['needs-attention', 'plate-not-shared']);
  });

  it('ended first: the plate is not there to be booked', async () => {
    const { headers, plateId } = await owner();
    await share(headers, plateId, 'run')().expect(200);
    const other = await signedInMember(house);
    const racing = [share(headers, plateId, 'nobody'), book(other.headers, plateId, freshSlot())] as const;
    const [ended, booked] = await inThisOrder(database, holdsPlate(plateId), ...racing);
    expect(ended.status).toBe(200);
    expect(codesOf(booked)).toEqual(['not-found']);
  });
});

describe('ending a plate’s sharing against running it', () => {
  /** A booking of somebody else's plate that may be run now. */
  async function bookedByOther() {
    const { headers, plateId } = await owner();
    await share(headers, plateId, 'run')().expect(200);
    const other = await signedInMember(house);
    const slot = freshSlot();
    const { body } = await book(other.headers, plateId, slot)().expect(201);
    house.clock.turn((new Date(slot.startsAt).getTime() - house.clock.now().getTime()) / 60_000);
    const run = () =>
      api
        .post(`/api/v1/bookings/${body.id}/run`)
        .set(other.headers)
        .send({ preUse: [...PRE_USE_LINES], withinCall: { memberId: odile.member.id } });
    return { bookingId: body.id as string, run, end: share(headers, plateId, 'nobody') };
  }

  it('opened first: the run goes on, and the booking says what it has lost', async () => {
    const { bookingId, run, end } = await bookedByOther();
    const [opened, ended] = await inThisOrder(database, holdsBooking(bookingId), run, end);
    expect([opened.status, ended.status]).toEqual([201, 200]);
    expect(await seen(bookingId)).toEqual(['needs-attention', 'plate-not-shared']);
  });

  it('ended first: the run is not opened', async () => {
    const { bookingId, run, end } = await bookedByOther();
    const [ended, opened] = await inThisOrder(database, holdsBooking(bookingId), end, run);
    expect(ended.status).toBe(200);
    expect(codesOf(opened)).toContain('run-booking-needs-attention');
    expect(await seen(bookingId)).toEqual(['needs-attention', 'plate-not-shared']);
  });
});
