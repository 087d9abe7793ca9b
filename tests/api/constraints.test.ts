import { setTimeout as sleep } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { transact } from '../../server/database/transaction.js';
import { mountedStands } from '../../server/press/store.js';
import { refuse } from '../../server/reasons.js';
import { testDatabase } from '../support/database.js';
import { LONG_AGO, plainPlate, plainReport, plainRows } from '../support/plain-rows.js';

const database = await testDatabase();
const rows = await plainRows(database);
const stopPlateId = await plainPlate(database, rows.memberId);
const stopReportId = await plainReport(database, stopPlateId, 'stop');

let hoursUsed = 0;

/** A span of one hour that no other test of this file uses. */
function freshSpan(): { startsAt: Date; endsAt: Date } {
  hoursUsed += 2;
  const startsAt = new Date(Date.UTC(2030, 0, 1, hoursUsed));
  return { startsAt, endsAt: new Date(startsAt.getTime() + 3_600_000) };
}

const INSERT_BOOKING = `insert into booking (member_id, press_id, plate_id, revision, report_id, polymer,
  starts_at, ends_at, created_at, clearance_id) values ($1, $2, $3, 1, $4, $5, $6, $7, $8, $9) returning id`;

const INSERT_RESERVATION = `insert into reservation (equipment_id, starts_at, ends_at, purpose, booking_id)
  values ($1, $2, $3, 'booking', $4)`;

interface BookingRow {
  startsAt: Date;
  endsAt: Date;
  plateId?: string;
  reportId?: string;
  polymer?: string;
}

/** What a booking row holds, in the order of `INSERT_BOOKING`. */
function bookingValues(given: BookingRow) {
  const { plateId = rows.plateId, reportId = rows.reportId, polymer = 'PP', startsAt, endsAt } = given;
  const { memberId, pressId, clearanceId } = rows;
  return [memberId, pressId, plateId, reportId, polymer, startsAt, endsAt, LONG_AGO, clearanceId];
}

async function bookPlainly(given: BookingRow = freshSpan()): Promise<string> {
  return transact(database, async (tx) => {
    const [booking] = await tx.query<{ id: string }>(INSERT_BOOKING, bookingValues(given));
    await tx.query(INSERT_RESERVATION, [rows.equipmentId, given.startsAt, given.endsAt, booking?.id ?? null]);
    return booking?.id ?? '';
  });
}

/** The name of the constraint that a change is refused by, with its SQLSTATE. */
async function refusedBy(change: Promise<unknown>) {
  const error = await change.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  return pgFaultOf(error);
}

describe('whoever writes, the database', () => {
  it('takes a booking that holds the press', async () => {
    expect(await bookPlainly()).toMatch(/^[0-9a-f-]{36}$/);
  });

  it('refuses to hold the press twice at once', async () => {
    const span = freshSpan();
    await bookPlainly(span);
    const halfAnHour = 1_800_000;
    const later = {
      startsAt: new Date(span.startsAt.getTime() + halfAnHour),
      endsAt: new Date(span.endsAt.getTime() + halfAnHour),
    };
    const expected = { sqlState: '23P01', constraint: 'reservation_no_overlap' };
    expect(await refusedBy(bookPlainly(later))).toEqual(expected);
  });

  it('refuses a closure over a booking and a booking into a closure', async () => {
    const booked = freshSpan();
    await bookPlainly(booked);
    const close = (span: { startsAt: Date; endsAt: Date }) =>
      database.query(
        `insert into reservation (equipment_id, starts_at, ends_at, purpose, note)
         values ($1, $2, $3, 'closure', 'stocktake')`,
        [rows.equipmentId, span.startsAt, span.endsAt],
      );
    expect(await refusedBy(close(booked))).toMatchObject({ constraint: 'reservation_no_overlap' });
    const closed = freshSpan();
    await close(closed);
    expect(await refusedBy(bookPlainly(closed))).toMatchObject({ constraint: 'reservation_no_overlap' });
  });

  it('lets one booking begin in the instant in which another ends', async () => {
    const first = freshSpan();
    await bookPlainly(first);
    const next = { startsAt: first.endsAt, endsAt: new Date(first.endsAt.getTime() + 60_000) };
    expect(await bookPlainly(next)).toMatch(/^[0-9a-f-]{36}$/);
  });

  it('refuses a booking that does not hold the press', async () => {
    const alone = database.query(INSERT_BOOKING, bookingValues(freshSpan()));
    expect(await refusedBy(alone)).toEqual({ sqlState: 'PS004', constraint: 'booking_holds_press' });
  });

  it('refuses a booking that holds the press for another span', async () => {
    const span = freshSpan();
    const id = await bookPlainly(span);
    const longer = new Date(span.endsAt.getTime() + 60_000);
    const stretch = database.query('update booking set ends_at = $2 where id = $1', [id, longer]);
    expect(await refusedBy(stretch)).toMatchObject({ constraint: 'booking_holds_press' });
  });

  it('refuses to release the press from under a booking', async () => {
    const id = await bookPlainly();
    const release = database.query('update reservation set released_at = now() where booking_id = $1', [id]);
    expect(await refusedBy(release)).toMatchObject({ constraint: 'booking_holds_press' });
  });

  it('refuses a cancelled booking that still holds the press', async () => {
    const id = await bookPlainly();
    const cancel = database.query(
      `update booking set status = 'cancelled', cancelled_at = now(), cancelled_by = member_id where id = $1`,
      [id],
    );
    expect(await refusedBy(cancel)).toMatchObject({ constraint: 'booking_holds_press' });
  });

  it('refuses a cancelled booking that does not say who cancelled it', async () => {
    const id = await bookPlainly();
    const cancel = database.query(`update booking set status = 'cancelled' where id = $1`, [id]);
    expect(await refusedBy(cancel)).toMatchObject({ constraint: 'booking_cancelled_told' });
  });

  it('refuses a booking that ends before it starts', async () => {
    const { startsAt, endsAt } = freshSpan();
    const backwards = bookPlainly({ startsAt: endsAt, endsAt: startsAt });
    expect(await refusedBy(backwards)).toMatchObject({ constraint: 'booking_order' });
  });

  it.each([
    ['a report with a stop', { plateId: stopPlateId, reportId: stopReportId }],
    ['the report of another plate', { plateId: stopPlateId }],
    ['the report of another resin', { polymer: 'POM' }],
  ])('refuses a booking on %s', async (_what, given) => {
    const booking = bookPlainly({ ...freshSpan(), ...given });
    expect(await refusedBy(booking)).toEqual({ sqlState: 'PS003', constraint: 'booking_report_fits' });
  });

  it('refuses a booking of less than a minute', async () => {
    const { startsAt } = freshSpan();
    const blink = bookPlainly({ startsAt, endsAt: new Date(startsAt.getTime() + 59_999) });
    expect(await refusedBy(blink)).toMatchObject({ constraint: 'booking_takes_a_minute' });
  });

  it('refuses a booking on the report of a bolster that is not in the press', async () => {
    const [mounted] = await database.query<{ id: string }>(
      'update bolster set mounted = false where mounted returning id',
    );
    try {
      expect(await refusedBy(bookPlainly())).toMatchObject({ constraint: 'booking_report_fits' });
    } finally {
      await database.query('update bolster set mounted = true where id = $1', [mounted?.id ?? null]);
    }
  });

  it.each([
    ['bolster', 'bolster_version', 'bolster_id'],
    ['press', 'press_version', 'press_id'],
  ])('refuses a booking on the report of an earlier version of the %s', async (_what, table, key) => {
    const outcome = transact(database, async (tx) => {
      await tx.query(
        `insert into ${table} select (jsonb_populate_record(v, jsonb_build_object('version', v.version + 1))).*
         from ${table} v join plate_report r on v.${key} = r.${key} where r.id = $1
         order by v.version desc limit 1`,
        [rows.reportId],
      );
      await tx.query(INSERT_BOOKING, bookingValues(freshSpan()));
    });
    expect(await refusedBy(outcome)).toMatchObject({ constraint: 'booking_report_fits' });
  });

  it('lets no version of the bolster in while somebody books on it', async () => {
    const order: string[] = [];
    let versioned: Promise<unknown> = Promise.resolve();
    await transact(database, async (tx) => {
      await mountedStands(tx);
      versioned = transact(database, async (other) => {
        await other.query(
          `insert into bolster_version
           select (jsonb_populate_record(v, jsonb_build_object('version', v.version + 1))).* from bolster_version v
           order by version desc limit 1`,
        );
        order.push('versioned');
        return refuse('changed-meanwhile');
      });
      await sleep(200);
      order.push('booked');
    });
    await versioned;
    expect(order).toEqual(['booked', 'versioned']);
  });

  it('refuses to put a standing booking on a report with a stop', async () => {
    const id = await bookPlainly();
    const swap = database.query('update booking set report_id = $2 where id = $1', [id, stopReportId]);
    expect(await refusedBy(swap)).toMatchObject({ constraint: 'booking_report_fits' });
  });

  it.each([
    ['a revision', `update plate_revision set file_name = 'other.dxf'`],
    ['a revision away', 'delete from plate_revision'],
    ['a report', `update plate_report set verdict = 'clear'`],
    ['a report away', 'delete from plate_report'],
    ['the trail', `update audit_entry set action = 'nothing'`],
    ['a line of the trail away', 'delete from audit_entry'],
    ['the whole trail away', 'truncate audit_entry'],
    ['shop rules that were in force', `update shop_rule set rules = '{}'`],
    ['a bolster version', 'update bolster_version set minimum_daylight_mm = 1'],
    ['a press version', 'update press_version set clamp_max_kn = 9000'],
    ['a booking away', 'delete from booking'],
    ['a reservation away', 'delete from reservation'],
  ])('never changes or takes %s', async (_what, sql) => {
    await database.query(
      `insert into audit_entry (at, actor_id, action, subject_kind, subject_id)
       values (now(), $1, 'booking-made', 'booking', 'x')`,
      [rows.memberId],
    );
    expect(await refusedBy(database.query(sql))).toMatchObject({ sqlState: 'PS001' });
  });

  it('refuses a revision number that does not follow', async () => {
    const plateId = await plainPlate(database, rows.memberId);
    const skip = database.query(
      `insert into plate_revision (plate_id, revision, dxf, dxf_sha256, file_name, facts, created_by, created_at)
       select plate_id, 3, dxf, dxf_sha256, file_name, facts, created_by, created_at
       from plate_revision where plate_id = $1`,
      [plateId],
    );
    expect(await refusedBy(skip)).toEqual({ sqlState: 'PS002', constraint: 'plate_revision_follows' });
  });

  it('refuses a report whose body says another verdict', async () => {
    const lie = database.query(
      `insert into plate_report (plate_id, revision, bolster_id, bolster_version, press_id, press_version, polymer,
         shop_rule_version, data_version, engine_version, verdict, report, created_at)
       select plate_id, revision, bolster_id, bolster_version, press_id, press_version, 'PC', shop_rule_version,
         data_version, engine_version, 'clear', report, created_at from plate_report where id = $1`,
      [stopReportId],
    );
    expect(await refusedBy(lie)).toMatchObject({ constraint: 'plate_report_verdict_told' });
  });

  it('keeps one report for one key', async () => {
    const twice = database.query(
      `insert into plate_report (plate_id, revision, bolster_id, bolster_version, press_id, press_version, polymer,
         shop_rule_version, data_version, engine_version, verdict, report, created_at)
       select plate_id, revision, bolster_id, bolster_version, press_id, press_version, polymer, shop_rule_version,
         data_version, engine_version, verdict, report, created_at from plate_report where id = $1`,
      [rows.reportId],
    );
    expect(await refusedBy(twice)).toMatchObject({ sqlState: '23505', constraint: 'plate_report_once' });
  });

  it('lets a closure be lifted once, and nothing else about it change', async () => {
    const { startsAt, endsAt } = freshSpan();
    const [closure] = await database.query<{ id: string }>(
      'insert into closure (starts_at, ends_at, note, created_at) values ($1, $2, $3, $4) returning id',
      [startsAt, endsAt, 'stocktake', LONG_AGO],
    );
    const change = (set: string) =>
      refusedBy(database.query(`update closure set ${set} where id = $1`, [closure?.id ?? '']));
    const refused = { sqlState: 'PS001', constraint: 'closure_only_lifted' };
    expect(await change(`note = 'other'`)).toEqual(refused);
    expect(await change(`lifted_at = now(), ends_at = ends_at + interval '1 hour'`)).toEqual(refused);
    expect(await change(`lifted_at = now()`)).toBeUndefined();
    expect(await change(`lifted_at = null`)).toEqual(refused);
    expect(await change(`lifted_at = now() + interval '1 hour'`)).toEqual(refused);
  });

  it.each(['closure', 'member_suspension'])('never empties %s', async (table) => {
    const emptied = database.query(`truncate ${table} cascade`);
    expect(await refusedBy(emptied)).toEqual({ sqlState: 'PS001', constraint: `${table}_append_only` });
  });
});
