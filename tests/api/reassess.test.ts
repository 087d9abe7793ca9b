import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { lookAtAll } from '../../server/bookings/look-again.js';
import { makeMissingReports } from '../../server/bookings/reassess.js';
import { transact } from '../../server/database/transaction.js';
import { accept } from '../../server/http/refused.js';
import { checkGround, reportKey } from '../../server/plates/check-ground.js';
import { createCheckPool } from '../../server/plates/check-pool.js';
import { insertClearance } from '../../server/plates/clearance/store.js';
import { insertReport } from '../../server/plates/store.js';
import { afterwards } from '../support/afterwards.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { groundChanges } from '../support/ground-changes.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { codesOf } from '../support/requests.js';
import { signedInMember } from '../support/sign-in.js';

const NOW = new Date('2026-11-23T08:00:00Z');

const database = await testDatabase();
const house = await testHouse(database, { at: NOW });
const { pressId, bolsterId, keyedBolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const odile = await signedInMember(house, 'steward');
const maren = await signedInMember(house, 'admin');
const ground = groundChanges(house, maren.headers);
const checks = createCheckPool({ workers: 1, timeoutMs: 20_000 });
afterwards(checks.close);

/** What the service does by itself after a start, and every hour. */
async function theHour(): Promise<void> {
  await makeMissingReports({ checks, database, now: house.clock.now });
  await transact(database, async (tx) => {
    await lookAtAll(tx, house.clock.now());
    return null;
  });
}

let hours = 8;

function freshSlot() {
  hours += 2;
  const startsAt = new Date(Date.UTC(2026, 10, 24 + Math.floor(hours / 20), 9 + (hours % 10)));
  return { startsAt: startsAt.toISOString(), endsAt: new Date(startsAt.getTime() + 3_600_000).toISOString() };
}

async function member(sample = 'tile-spacer-4up') {
  const made = await signedInMember(house);
  const body = { name: 'Tile spacer', ...plateBody(sample) };
  const plateId: string = (await api.post('/api/v1/plates').set(made.headers).send(body).expect(201)).body.id;
  return { ...made, plateId };
}

const book = (headers: { readonly authorization: string }, plateId: string, slot: object = freshSlot()) =>
  api
    .post('/api/v1/bookings')
    .set(headers)
    .send({ plateId, revision: 1, polymer: 'PP', ...slot });

async function seen(bookingId: string) {
  const { body } = await api.get(`/api/v1/bookings/${bookingId}`).set(odile.headers).expect(200);
  return [body.status, ...body.attention.map(({ code }: { code: string }) => code)];
}

async function toldOf(plateId: string, kind: string) {
  const rows = await database.query<{ id: string }>(
    `select member_id as id from notice where kind = $1 and href like $2 order by id`,
    [kind, `/plates/${plateId}%`],
  );
  return rows.map(({ id }) => id).sort();
}

/** A booking of a plate that was cleared on a clear report of an earlier release. */
async function bookedUnderAnEarlierRelease(sample: string) {
  const { member: wren, plateId } = await member(sample);
  const now = reportKey(accept(await checkGround(database, NOW, null)), plateId, 1, 'PP');
  const then = { ...now, engineVersion: '0' };
  const json = JSON.stringify({ verdict: 'clear', findings: [{ check: 'daylight', verdict: 'clear' }] });
  await insertReport(database, then, 'clear', json, LONG_AGO);
  const [report] = await database.query<{ id: string }>('select id from plate_report where plate_id = $1', [
    plateId,
  ]);
  const reportId = report?.id ?? '';
  await clearPlate(house, { plateId, through: 'trial' });
  const { startsAt, endsAt } = freshSlot();
  const bookingId = await transact(database, async (tx) => {
    const clearanceId = await insertClearance(tx, {
      plateId,
      revision: 1,
      bolsterId,
      bolsterVersion: now.bolsterVersion,
      step: 'production',
      decision: 'clear',
      readings: null,
      trialRunId: null,
      note: null,
      by: odile.member.id,
      at: LONG_AGO,
      reports: [{ polymer: 'PP', reportId, cautions: [] }],
    });
    const [made] = await tx.query<{ id: string }>(
      `insert into booking (member_id, press_id, plate_id, revision, report_id, clearance_id, polymer, starts_at,
         ends_at, created_at) values ($1, $2, $3, 1, $4, $5, 'PP', $6, $7, $8) returning id`,
      [wren.id, pressId, plateId, reportId, clearanceId, startsAt, endsAt, LONG_AGO],
    );
    await tx.query(
      `insert into reservation (equipment_id, starts_at, ends_at, purpose, booking_id)
       select id, $2, $3, 'booking', $4 from equipment where press_id = $1`,
      [pressId, startsAt, endsAt, made?.id ?? ''],
    );
    return made?.id ?? '';
  });
  return { wren, plateId, bookingId, reportId };
}

describe('after a release with another engine', () => {
  it('what its check stops now is lost, told once to owner and stewards, and says why', async () => {
    const { wren, plateId, bookingId } = await bookedUnderAnEarlierRelease('bolt-off-grid');
    const stewards = [odile.member.id, maren.member.id];
    expect(await seen(bookingId)).toEqual(['booked']);
    await theHour();
    await theHour();
    expect((await seen(bookingId)).slice(0, 2)).toEqual(['needs-attention', 'report-has-stop']);
    const told = await toldOf(plateId, 'plate-says-worse');
    expect(told).toEqual(expect.arrayContaining([wren.id, ...stewards]));
    expect(new Set(told).size).toBe(told.length);
    const found = await database.query<{ worse: readonly object[] }>(
      `select worse from reassessment r join plate_report a on a.id = r.after_id where a.plate_id = $1`,
      [plateId],
    );
    expect(found).toHaveLength(1);
    expect(found[0]?.worse).toContainEqual({ check: 'bolt-pattern', before: 'clear', after: 'stop' });
  });

  it('what it finds as before stays booked, on the new report', async () => {
    const { plateId, bookingId, reportId } = await bookedUnderAnEarlierRelease('tile-spacer-4up');
    await theHour();
    expect(await seen(bookingId)).toEqual(['booked']);
    const [row] = await database.query<{ reportId: string; engine: string }>(
      `select b.report_id as "reportId", r.engine_version as engine from booking b
       join plate_report r on r.id = b.report_id where b.id = $1`,
      [bookingId],
    );
    expect(row?.reportId).not.toBe(reportId);
    expect(row?.engine).not.toBe('0');
    expect(await toldOf(plateId, 'plate-says-worse')).toEqual([]);
  });
});

describe('an inspection of the press that will be due', () => {
  it('stands against a booking that ends after it, until the next is recorded', async () => {
    const wren = await member();
    await clearPlate(house, { plateId: wren.plateId });
    const far = { startsAt: '2026-12-08T10:00:00Z', endsAt: '2026-12-08T12:00:00Z' };
    const near = { startsAt: '2026-12-02T10:00:00Z', endsAt: '2026-12-02T12:00:00Z' };
    const bookingId: string = (await book(wren.headers, wren.plateId, far).expect(201)).body.id;
    const inspect = (inspectedOn: string) =>
      api
        .post('/api/v1/inspections')
        .set(maren.headers)
        .send({ inspectedOn, inspectedBy: 'Ash & Daughters', intervalMonths: 12, note: 'Guards good.' })
        .expect(201);
    await inspect('2025-12-05');
    await theHour();
    expect(await seen(bookingId)).toEqual(['needs-attention', 'inspection-overdue']);
    const later = { startsAt: '2026-12-09T10:00:00Z', endsAt: '2026-12-09T12:00:00Z' };
    expect(codesOf(await book(wren.headers, wren.plateId, later).expect(422))).toEqual([
      'inspection-overdue',
    ]);
    await book(wren.headers, wren.plateId, near).expect(201);
    await inspect('2026-11-20');
    await theHour();
    expect(await seen(bookingId)).toEqual(['booked']);
  });
});

describe('another version of a bolster', () => {
  it('is told to the owners of plates that were cleared on the one before, mounted or not', async () => {
    const [cleared, waiting, keyed] = [await member(), await member(), await member()];
    await clearPlate(house, { plateId: cleared.plateId });
    await api
      .post(`/api/v1/plates/${keyed.plateId}/revisions/1/clearance`)
      .set(odile.headers)
      .send({
        bolsterId: keyedBolsterId,
        step: 'fit',
        decision: 'clear',
        measuredThicknessMm: [16, 16, 16, 16],
      })
      .expect(201);
    const told = async (plateId: string) => await toldOf(plateId, 'plate-bolster-revised');
    expect((await ground.editBolster(bolsterId, 12.5)).status).toBe(201);
    expect(await told(cleared.plateId)).toEqual([cleared.member.id]);
    expect([await told(waiting.plateId), await told(keyed.plateId)]).toEqual([[], []]);
    expect((await ground.editBolster(keyedBolsterId, 12.5)).status).toBe(201);
    expect(await told(keyed.plateId)).toEqual([keyed.member.id]);
    expect(await told(cleared.plateId)).toHaveLength(1);
    const { body } = await api.get('/api/v1/notices').set(cleared.headers).expect(200);
    expect(JSON.stringify(body.items)).toContain('plate-bolster-revised');
  });
});
