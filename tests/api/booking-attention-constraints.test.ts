import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import type { Queryable } from '../../server/database/queryable.js';
import { transact } from '../../server/database/transaction.js';
import { mountedBolster } from '../../server/press/store.js';
import { testDatabase } from '../support/database.js';
import {
  clearedReport,
  LONG_AGO,
  plainMember,
  plainPlate,
  plainReport,
  plainRows,
} from '../support/plain-rows.js';

const database = await testDatabase();
const rows = await plainRows(database);
const stewardId = await plainMember(database, 'Kofi');
const bolsterId = (await mountedBolster(database))?.id ?? '';
const halted = await plainPlate(database, rows.memberId);

/** The name of the constraint that a change is refused by, with its SQLSTATE. */
async function refusedBy(change: Promise<unknown>) {
  const error = await change.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  return pgFaultOf(error);
}

let hours = 0;

interface Given {
  readonly plateId?: string;
  readonly reportId?: string;
  readonly clearanceId?: string | null;
  readonly polymer?: string;
  readonly kind?: 'trial' | 'production';
  readonly status?: 'booked' | 'needs-attention';
  /** Run in the same transaction, once the booking is there. */
  readonly after?: (tx: Queryable, bookingId: string) => Promise<unknown>;
}

/** Books an hour that no other test of this file uses. */
async function book(given: Given = {}): Promise<string> {
  const { plateId = rows.plateId, reportId = rows.reportId, clearanceId = rows.clearanceId } = given;
  const { polymer = 'PP', kind = 'production', status = 'booked' } = given;
  hours += 2;
  const startsAt = new Date(Date.UTC(2031, 0, 1, hours));
  const endsAt = new Date(startsAt.getTime() + 3_600_000);
  return transact(database, async (tx) => {
    const [made] = await tx.query<{ id: string }>(
      `insert into booking (member_id, press_id, plate_id, revision, report_id, polymer, booking_kind, starts_at,
         ends_at, created_at, clearance_id, status) values ($1, $2, $3, 1, $4, $5, $6, $7, $8, $9, $10, $11) returning id`,
      [
        rows.memberId,
        rows.pressId,
        plateId,
        reportId,
        polymer,
        kind,
        startsAt,
        endsAt,
        LONG_AGO,
        clearanceId,
        status,
      ],
    );
    const id = made?.id ?? '';
    await tx.query(
      `insert into reservation (equipment_id, starts_at, ends_at, purpose, booking_id) values ($1, $2, $3, 'booking', $4)`,
      [rows.equipmentId, startsAt, endsAt, id],
    );
    await given.after?.(tx, id);
    return id;
  });
}

const LOSE = `insert into booking_lost (booking_id, code, figures, lost_at) values ($1, 'plate-retired', '{}', now())`;
const lose = (tx: Queryable, id: string) => tx.query(LOSE, [id]);
const waiting = () => book({ status: 'needs-attention', after: lose });

/** A decision of the steward about a plate, on the mounted bolster. */
async function decide(plateId: string, step: string, decision = 'clear'): Promise<string> {
  const readings = step === 'fit' ? '{"thicknessMm": [16, 16, 16, 16]}' : '{}';
  const [row] = await database.query<{ id: string }>(
    `insert into clearance (plate_id, revision, bolster_id, bolster_version, step, decision, readings, note,
       decided_by, decided_at) values ($1, 1, $2, 1, $3, $4, $5, 'Seen.', $6, $7) returning id`,
    [plateId, bolsterId, step, decision, readings, stewardId, LONG_AGO],
  );
  return row?.id ?? '';
}

describe('a booking and what it lost', () => {
  const untold = { sqlState: 'PS004', constraint: 'booking_attention_told' };

  it('is booked while nothing is missing, and needs attention while something is', async () => {
    expect(await book()).toMatch(/^[0-9a-f-]{36}$/);
    expect(await waiting()).toMatch(/^[0-9a-f-]{36}$/);
    expect(await refusedBy(book({ status: 'needs-attention' }))).toEqual(untold);
    expect(await refusedBy(book({ after: lose }))).toEqual(untold);
    const standing = await book();
    expect(await refusedBy(lose(database, standing))).toEqual(untold);
    const setAttention = `update booking set status = 'needs-attention' where id = $1`;
    expect(await refusedBy(database.query(setAttention, [standing]))).toEqual(untold);
    const missing = await waiting();
    const setBooked = `update booking set status = 'booked' where id = $1`;
    expect(await refusedBy(database.query(setBooked, [missing]))).toEqual(untold);
    const regain = 'update booking_lost set regained_at = now() where booking_id = $1';
    expect(await refusedBy(database.query(regain, [missing]))).toEqual(untold);
  });

  it('loses the same thing once at a time, and regains it once, later', async () => {
    const id = await waiting();
    expect(await refusedBy(lose(database, id))).toMatchObject({ constraint: 'booking_lost_once' });
    const early = `update booking_lost set regained_at = lost_at - interval '1 second' where booking_id = $1`;
    expect(await refusedBy(database.query(early, [id]))).toMatchObject({ constraint: 'booking_lost_order' });
    await transact(database, async (tx) => {
      await tx.query('update booking_lost set regained_at = now() where booking_id = $1', [id]);
      await tx.query(`update booking set status = 'booked' where id = $1`, [id]);
      return id;
    });
    const again = 'update booking_lost set regained_at = now() where booking_id = $1';
    const kept = { sqlState: 'PS001', constraint: 'booking_lost_kept' };
    expect(await refusedBy(database.query(again, [id]))).toEqual(kept);
  });

  it.each([
    `update booking_lost set code = 'press-closed'`,
    `update booking_lost set lost_at = lost_at - interval '1 day'`,
    'delete from booking_lost',
  ])('is never rewritten: %s', async (sql) => {
    await waiting();
    expect(await refusedBy(database.query(sql))).toEqual({
      sqlState: 'PS001',
      constraint: 'booking_lost_kept',
    });
  });

  it('is told by a code and figures, of a booking that is there, and never emptied', async () => {
    const id = await waiting();
    const put = (code: string, figures = '{}', bookingId = id) =>
      refusedBy(
        database.query(
          'insert into booking_lost (booking_id, code, figures, lost_at) values ($1, $2, $3, now())',
          [bookingId, code, figures],
        ),
      );
    expect(await put('Plate retired')).toMatchObject({ constraint: 'booking_lost_code_shape' });
    expect(await put('plate-retired', '[]')).toMatchObject({ constraint: 'booking_lost_figures_object' });
    expect(await put('plate-retired', '{}', stewardId)).toMatchObject({ constraint: 'booking_lost_booking' });
    expect(await refusedBy(database.query('truncate booking_lost'))).toMatchObject({ sqlState: 'PS001' });
  });
});

describe('a booking that is booked', () => {
  const unfit = { sqlState: 'PS003', constraint: 'booking_clearance_fits' };

  it('stands on a clearance, for production on one that names its resin', async () => {
    expect(await refusedBy(book({ clearanceId: null }))).toEqual(unfit);
    const reportId = await plainReport(database, rows.plateId, 'clear', 'HDPE');
    expect(await refusedBy(book({ reportId, polymer: 'HDPE' }))).toEqual(unfit);
    expect(await book({ reportId, polymer: 'HDPE', kind: 'trial' })).toMatch(/-/);
  });

  it('stands on a clearance of its own plate that nobody took back', async () => {
    const reportId = await plainReport(database, halted, 'clear');
    expect(await refusedBy(book({ plateId: halted, reportId }))).toEqual(unfit);
    const fitId = await decide(halted, 'fit');
    const trial = { plateId: halted, reportId, clearanceId: fitId, kind: 'trial' } as const;
    expect(await refusedBy(book({ ...trial, kind: 'production' }))).toEqual(unfit);
    expect(await book(trial)).toMatch(/-/);
    const refusalId = await decide(halted, 'trial', 'refuse');
    expect(await refusedBy(book({ ...trial, clearanceId: refusalId }))).toEqual(unfit);
    expect(await book(trial)).toMatch(/-/);
    await decide(halted, 'fit', 'void');
    expect(await refusedBy(book(trial))).toEqual(unfit);
  });

  it('stands on the latest revision, the latest version of the bolster, and the one that is mounted', async () => {
    const plateId = await plainPlate(database, rows.memberId);
    const on = { plateId, ...(await clearedReport(database, plateId)) };
    const standing = await book(on);
    await database.query(
      `insert into plate_revision (plate_id, revision, dxf, dxf_sha256, file_name, facts, created_by, created_at)
       select plate_id, 2, dxf, dxf_sha256, file_name, facts, created_by, created_at from plate_revision
       where plate_id = $1`,
      [plateId],
    );
    expect(await refusedBy(book(on))).toEqual(unfit);
    const moved = database.query(
      'update booking set clearance_id = clearance_id, polymer = polymer where id = $1',
      [standing],
    );
    expect(await refusedBy(moved)).toEqual(unfit);
    await database.query('update bolster set mounted = false where id = $1', [bolsterId]);
    // Of a bolster that is not mounted the report does not fit either, and that is asked first.
    expect(await refusedBy(book())).toMatchObject({ sqlState: 'PS003' });
    const trust = database.query(
      `update booking set status = 'booked' where plate_id = $1 and status = 'booked'`,
      [rows.plateId],
    );
    expect(await refusedBy(trust)).toEqual(unfit);
    await database.query('update bolster set mounted = true where id = $1', [bolsterId]);
  });
});

describe('a report that says worse than the one before', () => {
  const insert = (before: string, after: string, worse = '[{"check": "walls"}]') =>
    database.query(
      'insert into reassessment (before_id, after_id, worse, found_at) values ($1, $2, $3, now())',
      [before, after, worse],
    );

  it('is of one plate, revision and resin, with what got worse, once, for good', async () => {
    const other = await plainReport(database, rows.plateId, 'clear', 'ABS');
    const foreign = { sqlState: 'PS003', constraint: 'reassessment_of_one_plate' };
    expect(await refusedBy(insert(rows.reportId, other))).toEqual(foreign);
    expect(await refusedBy(insert(rows.reportId, rows.reportId))).toEqual(foreign);
    const [older] = await database.query<{ id: string }>(
      `insert into plate_report (plate_id, revision, bolster_id, bolster_version, press_id, press_version, polymer,
         shop_rule_version, data_version, engine_version, verdict, report, created_at)
       select plate_id, revision, bolster_id, bolster_version, press_id, press_version, polymer, shop_rule_version,
         data_version, '0', verdict, report, created_at from plate_report where id = $1 returning id`,
      [rows.reportId],
    );
    const before = older?.id ?? '';
    expect(await refusedBy(insert(before, rows.reportId, '[]'))).toMatchObject({
      constraint: 'reassessment_worse_some',
    });
    await insert(before, rows.reportId);
    expect(await refusedBy(insert(before, rows.reportId))).toMatchObject({ constraint: 'reassessment_once' });
    const kept = { sqlState: 'PS001', constraint: 'reassessment_append_only' };
    expect(await refusedBy(database.query('update reassessment set found_at = now()'))).toEqual(kept);
    expect(await refusedBy(database.query('delete from reassessment'))).toEqual(kept);
    expect(await refusedBy(database.query('truncate reassessment'))).toMatchObject({ sqlState: 'PS001' });
  });
});

describe('a decision about a plate', () => {
  it('is about a later version of no bolster, names a trial run for the trial alone, and cautions in a list', async () => {
    const plateId = await plainPlate(database, rows.memberId);
    await plainReport(database, plateId, 'clear');
    await decide(plateId, 'fit');
    const run = database.query(
      `insert into clearance (plate_id, revision, bolster_id, bolster_version, step, decision, readings, note,
         trial_run_id, decided_by, decided_at) values ($1, 1, $2, 1, 'fit', 'void', '{}', 'Seen.', $1, $3, $4)`,
      [plateId, bolsterId, stewardId, LONG_AGO],
    );
    expect(await refusedBy(run)).toMatchObject({ constraint: 'clearance_trial_run_only' });
    await decide(plateId, 'trial');
    const cautions = transact(database, async (tx) => {
      const [made] = await tx.query<{ id: string }>(
        `insert into clearance (plate_id, revision, bolster_id, bolster_version, step, decision, note, decided_by,
           decided_at) values ($1, 1, $2, 1, 'production', 'clear', 'Seen.', $3, $4) returning id`,
        [plateId, bolsterId, stewardId, LONG_AGO],
      );
      await tx.query(
        `insert into clearance_report (clearance_id, polymer, report_id, cautions)
         select $1, 'PP', id, '{}' from plate_report where plate_id = $2`,
        [made?.id ?? '', plateId],
      );
      return plateId;
    });
    expect(await refusedBy(cautions)).toMatchObject({ constraint: 'clearance_report_cautions_array' });
    await database.query(
      `insert into bolster_version
       select (jsonb_populate_record(v, jsonb_build_object('version', 2))).* from bolster_version v
       where bolster_id = $1 and version = 1`,
      [bolsterId],
    );
    expect(await refusedBy(decide(plateId, 'production', 'void'))).toEqual({
      sqlState: 'PS002',
      constraint: 'clearance_latest_bolster',
    });
    expect(await refusedBy(book())).toMatchObject({ sqlState: 'PS003' });
  });
});
