import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { PRE_USE_LINES } from '../../server/runs/pre-use.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { trialBookedNow } from '../support/opened-trial.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { codesOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const ROUNDS = 12;

const database = await testDatabase();
const house = await testHouse(database, {
  at: '2026-11-25T10:00:00Z',
  settings: { sessionIdleMinutes: 60 * 24 * 60, sessionHours: 60 * 24 },
});
await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house);
const odile = await signedInMember(house, 'steward');

const { body: plate } = await api
  .post('/api/v1/plates')
  .set(wren.headers)
  .send({ name: 'Tile spacer', ...plateBody('tile-spacer-4up') })
  .expect(201);
const plateId: string = plate.id;
await api.get(`/api/v1/plates/${plateId}/revisions/1/check?polymer=PP`).set(wren.headers).expect(200);
await clearPlate(house, { plateId, through: 'fit' });

async function booked(member = wren.member.id): Promise<string> {
  house.clock.turn(120);
  return trialBookedNow(house, { memberId: member, plateId });
}

const open = (bookingId: string, headers: Record<string, string>) =>
  api
    .post(`/api/v1/bookings/${bookingId}/run`)
    .set(headers)
    .send({ preUse: PRE_USE_LINES, withinCall: { name: 'Aldo' }, attendedBy: odile.member.id });

async function openNow(bookingId: string): Promise<readonly string[]> {
  const rows = await database.query<{ id: string }>(
    'select id from run where booking_id = $1 and closed_at is null',
    [bookingId],
  );
  return rows.map(({ id }) => id);
}

async function stopAll(bookingId: string): Promise<void> {
  for (const id of await openNow(bookingId)) {
    await api
      .post(`/api/v1/runs/${id}/closing`)
      .set(odile.headers)
      .send({ outcome: 'stopped', note: 'The round is over.' })
      .expect(201);
  }
}

describe('at the same moment', () => {
  it(`a run is opened and its booking cancelled, ${ROUNDS} times: one of the two`, async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const bookingId = await booked();
      const [opened, cancelled] = await Promise.all([
        open(bookingId, wren.headers),
        api.delete(`/api/v1/bookings/${bookingId}`).set(wren.headers),
      ]);
      const outcome = [opened.status, cancelled.status];
      expect([
        [201, 409],
        [409, 200],
      ]).toContainEqual(outcome);
      const [booking] = await database.query<{ status: string }>('select status from booking where id = $1', [
        bookingId,
      ]);
      expect(booking?.status === 'cancelled').toBe((await openNow(bookingId)).length === 0);
      await stopAll(bookingId);
    }
  }, 60_000);

  it(`a run is opened by two, ${ROUNDS} times: one gets it, the other is told`, async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const bookingId = await booked();
      const replies = await Promise.all([open(bookingId, wren.headers), open(bookingId, odile.headers)]);
      expect(replies.map(({ status }) => status).sort()).toEqual([201, 409]);
      const lost = replies.find(({ status }) => status === 409);
      expect(lost && codesOf(lost)).toEqual(['run-open-already']);
      expect(await openNow(bookingId)).toHaveLength(1);
      await stopAll(bookingId);
    }
  }, 60_000);

  it(`a run is opened and the opener’s sign-off revoked, ${ROUNDS} times: opened before, or refused`, async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const member = await signedInMember(house);
      const [signOff] = await database.query<{ id: string }>(
        `select id from sign_off where member_id = $1 and competence = 'press-operation'`,
        [member.member.id],
      );
      const bookingId = await booked(member.member.id);
      const [opened, revoked] = await Promise.all([
        open(bookingId, member.headers),
        api.delete(`/api/v1/signoffs/${signOff?.id}`).set(odile.headers).send({ reason: 'For the race.' }),
      ]);
      expect(revoked.status).toBe(200);
      if (opened.status !== 201) expect(codesOf(opened)).toContain('signoff-missing');
      const [booking] = await database.query<{ status: string }>('select status from booking where id = $1', [
        bookingId,
      ]);
      expect(booking?.status).toBe('needs-attention');
      expect(await openNow(bookingId)).toHaveLength(opened.status === 201 ? 1 : 0);
      await stopAll(bookingId);
    }
  }, 60_000);
});
