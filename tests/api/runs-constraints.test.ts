import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import type { SqlValue } from '../../server/database/queryable.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { trialBookedNow } from '../support/opened-trial.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { makeMember, signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const { pressId, bolsterId, keyedBolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house);
const odile = await signedInMember(house, 'steward');
const jory = await makeMember(house, 'member', []);
const plate = await api
  .post('/api/v1/plates')
  .set(wren.headers)
  .send({ name: 'Tile spacer', ...plateBody('tile-spacer-4up') })
  .expect(201);
const plateId: string = plate.body.id;
await api.get(`/api/v1/plates/${plateId}/revisions/1/check?polymer=PP`).set(wren.headers).expect(200);
await clearPlate(house, { plateId, through: 'fit' });
const bookingId = await trialBookedNow(house, { memberId: wren.member.id, plateId });
const now = house.clock.now();
const minutes = (count: number) => new Date(now.getTime() + count * 60_000);

const WHOLE: { readonly [column: string]: SqlValue } = {
  booking_id: bookingId,
  press_id: pressId,
  bolster_id: bolsterId,
  bolster_version: 1,
  plate_id: plateId,
  revision: 1,
  kind: 'trial',
  opened_by: wren.member.id,
  opened_at: now,
  pre_use: ['area-clear', 'guards', 'emergency-stop', 'hoses', 'no-leaks'],
  within_call_name: 'Aldo',
  attended_by: odile.member.id,
  trial_plan: '{}',
};

async function insert(table: string, row: { readonly [column: string]: SqlValue }): Promise<string> {
  const columns = Object.keys(row);
  const places = columns.map((_, i) => `$${i + 1}`);
  const [made] = await database.query<{ id: string }>(
    `insert into ${table} (${columns}) values (${places}) returning id`,
    Object.values(row),
  );
  return made?.id ?? '';
}

async function refusedBy(change: Promise<unknown>): Promise<string | undefined> {
  try {
    await change;
  } catch (error) {
    return pgFaultOf(error)?.constraint;
  }
  return 'nothing';
}

describe('whoever writes, a run', () => {
  it.each<[string, { readonly [column: string]: SqlValue }, string]>([
    [
      'with a line of the check left out',
      { pre_use: ['guards', 'hoses', 'no-leaks', 'area-clear'] },
      'run_pre_use_whole',
    ],
    ['with nobody within call', { within_call_name: null }, 'run_within_call_somebody'],
    ['with two within call', { within_call_id: odile.member.id }, 'run_within_call_somebody'],
    [
      'with oneself within call',
      { within_call_name: null, within_call_id: wren.member.id },
      'run_within_call_another',
    ],
    ['that nobody attends', { attended_by: null }, 'run_trial_attended'],
    ['without its plan', { trial_plan: null }, 'run_trial_attended'],
    ['attended by the one who booked it', { attended_by: wren.member.id }, 'run_attended_by_steward'],
    ['attended by who is no steward', { attended_by: jory.id }, 'run_attended_by_steward'],
    ['by who is not signed off', { opened_by: jory.id }, 'run_by_signed_off'],
    ['eleven minutes early', { opened_at: minutes(-11) }, 'run_within_booking'],
    ['after the booking', { opened_at: minutes(60) }, 'run_within_booking'],
    [
      'of another kind than its booking',
      { kind: 'production', attended_by: null, trial_plan: null },
      'run_fits_booking',
    ],
    ['on a bolster that is not mounted', { bolster_id: keyedBolsterId }, 'run_fits_booking'],
    ['that ends without saying how', { closed_at: minutes(1), closed_by: wren.member.id }, 'run_closed_told'],
    [
      'that ends as production does',
      { closed_at: minutes(1), closed_by: wren.member.id, outcome: 'finished' },
      'run_outcome',
    ],
    [
      'that was stopped for no reason',
      { closed_at: minutes(1), closed_by: wren.member.id, outcome: 'stopped' },
      'run_says_why',
    ],
  ])('%s is refused', async (_what, change, constraint) => {
    expect(await refusedBy(insert('run', { ...WHOLE, ...change }))).toBe(constraint);
  });

  it('is one at a time on a press, holds its booking, is closed once, and never rewritten', async () => {
    const runId = await insert('run', WHOLE);
    expect(await refusedBy(insert('run', WHOLE))).toBe('run_open_once');
    const cancel = `update booking set status = 'cancelled', cancelled_at = $2, cancelled_by = $3 where id = $1`;
    expect(await refusedBy(database.query(cancel, [bookingId, now, wren.member.id]))).toBe(
      'booking_run_open',
    );
    const move = `update booking set ends_at = ends_at + interval '1 hour' where id = $1`;
    expect(await refusedBy(database.query(move, [bookingId]))).toBe('booking_run_open');
    const change = `update run set within_call_name = 'Nobody' where id = $1`;
    expect(await refusedBy(database.query(change, [runId]))).toBe('run_only_closed');

    const step = { run_id: runId, step: 'close-gently', went: 'on', kept_by: wren.member.id, kept_at: now };
    const stepId = await insert('trial_step', step);
    expect(await refusedBy(insert('trial_step', { ...step, went: 'sideways' }))).toBe('trial_step_went');
    expect(await refusedBy(insert('trial_step', { ...step, went: 'stop' }))).toBe('trial_step_stop_says_why');
    expect(
      await refusedBy(database.query(`update trial_step set went = 'again' where id = $1`, [stepId])),
    ).toBe('trial_step_append_only');
    expect(await refusedBy(database.query('delete from trial_step where id = $1', [stepId]))).toBe(
      'trial_step_append_only',
    );

    const close = `update run set closed_at = $2, closed_by = $3, outcome = 'stopped', outcome_note = 'Done' where id = $1`;
    await database.query(close, [runId, now, wren.member.id]);
    expect(await refusedBy(database.query(close, [runId, now, wren.member.id]))).toBe('run_only_closed');
    expect(await refusedBy(insert('trial_step', step))).toBe('trial_step_of_open_trial');
    expect(await refusedBy(database.query('delete from run where id = $1', [runId]))).toBe('run_append_only');
    expect(
      await refusedBy(
        database.query(
          'truncate run, trial_step, clearance, clearance_report, booking, booking_lost, reservation',
        ),
      ),
    ).toMatch(/_append_only$|_kept$/);
  });

  it('names a photograph of its own plate, and a clearance a run that there is', async () => {
    const runId = await insert('run', WHOLE);
    const photographId = await insert('photograph', {
      bolster_id: bolsterId,
      whole: Buffer.from('ffd8ff00', 'hex'),
      thumb: Buffer.from('ffd8ff00', 'hex'),
      width_px: 1,
      height_px: 1,
      kept_by: wren.member.id,
      kept_at: now,
    });
    const step = { run_id: runId, step: 'close-gently', went: 'on', kept_by: wren.member.id, kept_at: now };
    expect(await refusedBy(insert('trial_step', { ...step, photograph_id: photographId }))).toBe(
      'trial_step_own_photograph',
    );
    const clearance = {
      plate_id: plateId,
      revision: 1,
      bolster_id: bolsterId,
      bolster_version: 1,
      step: 'trial',
      decision: 'clear',
      trial_run_id: '00000000-0000-4000-8000-000000000000',
      decided_by: odile.member.id,
      decided_at: now,
    };
    expect(await refusedBy(insert('clearance', clearance))).toBe('clearance_trial_run');
  });
});

describe('whoever writes, a near miss', () => {
  it('is told of what has happened, answered once, and never rewritten', async () => {
    const told = {
      reported_by: wren.member.id,
      reported_at: now,
      happened_at: now,
      place: 'Press',
      what: 'A hose burst.',
      hurt: 'nobody',
    };
    expect(await refusedBy(insert('near_miss', { ...told, happened_at: minutes(1) }))).toBe(
      'near_miss_order',
    );
    expect(await refusedBy(insert('near_miss', { ...told, hurt: 'perhaps' }))).toBe('near_miss_hurt');
    expect(await refusedBy(insert('near_miss', { ...told, what: '  ' }))).toBe('near_miss_what_length');
    const nearMissId = await insert('near_miss', told);
    expect(
      await refusedBy(database.query(`update near_miss set what = 'x' where id = $1`, [nearMissId])),
    ).toBe('near_miss_append_only');
    const answer = `insert into near_miss_answer (near_miss_id, answered_by, answered_at, done) values ($1, $2, $3, 'Seen to')`;
    await database.query(answer, [nearMissId, odile.member.id, now]);
    expect(await refusedBy(database.query(answer, [nearMissId, odile.member.id, now]))).toBe(
      'near_miss_answer_pkey',
    );
    expect(await refusedBy(database.query('delete from near_miss_answer'))).toBe(
      'near_miss_answer_append_only',
    );
  });
});
