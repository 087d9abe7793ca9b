import supertest from 'supertest';
import { beforeAll, describe, expect, it } from 'vitest';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { codesOf } from '../support/requests.js';
import { sampleBody } from '../support/sample-plate.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database, { at: '2026-11-25T10:00:00Z' });
const api = supertest(house.url);
const { bolsterId, keyedBolsterId, pressId } = await furnishPress(database, new Date('2026-01-01T00:00:00Z'));
const admin = await signedInMember(house, 'admin');
const steward = await signedInMember(house, 'steward');
const wren = await signedInMember(house);
let plateId = '';

beforeAll(async () => {
  const body = await sampleBody('tile-spacer-4up', 'Spacer');
  plateId = (await api.post('/api/v1/plates').set(wren.headers).send(body).expect(201)).body.id;
  await clearPlate(house, { plateId });
});

const book = (day: number, from: number, to: number) =>
  api
    .post('/api/v1/bookings')
    .set(wren.headers)
    .send({ plateId, revision: 1, polymer: 'PP', startsAt: at(day, from), endsAt: at(day, to) });
const at = (day: number, hour: number) => new Date(Date.UTC(2026, 11, day, hour)).toISOString();
const statusOf = async (id: string) =>
  (await database.query<{ status: string }>('select status from booking where id = $1', [id]))[0]?.status;
const mount = (id: string, insteadOf: string) =>
  api.post(`/api/v1/bolsters/${id}/mounting`).set(admin.headers).send({ insteadOf, why: 'For the spring' });

describe('out of service over a booking', () => {
  it('leaves the booking its time, which needs attention, and takes it over once it is cancelled', async () => {
    const booking = (await book(1, 11, 12).expect(201)).body.id;
    const [equipment] = await database.query<{ id: string }>('select id from equipment where press_id = $1', [
      pressId,
    ]);
    const outage = { equipmentId: equipment?.id, startsAt: at(1, 10), endsAt: at(1, 15), reason: 'Oil leak' };
    await api.post('/api/v1/outages').set(steward.headers).send(outage).expect(201);
    expect(await statusOf(booking)).toBe('needs-attention');
    const told = await database.query(
      `select kind from notice where member_id = $1 and kind like 'booking%'`,
      [wren.member.id],
    );
    expect(told).toContainEqual({ kind: 'booking-needs-attention' });
    expect(codesOf(await book(1, 13, 14))).toContain('press-out-of-service');
    await api.delete(`/api/v1/bookings/${booking}`).set(wren.headers).send({ reason: 'Leak' });
    expect(await statusOf(booking)).toBe('cancelled');
    expect(codesOf(await book(1, 11, 12))).toContain('press-out-of-service');
  });
});

describe('mounting another bolster', () => {
  it('shows the bookings on the old one before, and marks and tells them after', async () => {
    const booking = (await book(2, 11, 12).expect(201)).body.id;
    const seen = await api
      .post(`/api/v1/bolsters/${keyedBolsterId}/mounting/preview`)
      .set(admin.headers)
      .send({ insteadOf: bolsterId })
      .expect(200);
    expect(seen.body.bookings).toMatchObject([{ bookingId: booking }]);
    expect(await statusOf(booking)).toBe('booked');
    await mount(keyedBolsterId, bolsterId).expect(201);
    expect(await statusOf(booking)).toBe('needs-attention');
    await mount(bolsterId, keyedBolsterId).expect(201);
    expect(await statusOf(booking)).toBe('booked');
  });

  it('never leaves a booking standing on what went out, whichever of the two is first', async () => {
    for (const [round, day] of [7, 8, 9, 10].entries()) {
      const [into, outOf] = round % 2 === 0 ? [keyedBolsterId, bolsterId] : [bolsterId, keyedBolsterId];
      await Promise.all([book(day, 11, 12), mount(into, outOf), book(day, 14, 15)]);
      const wrong = await database.query(
        `select b.id from booking b join plate_report r on r.id = b.report_id
         join bolster o on o.id = r.bolster_id where b.status = 'booked' and not o.mounted`,
      );
      expect(wrong).toEqual([]);
    }
  });
});
