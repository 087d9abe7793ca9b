import { describe, expect, it } from 'vitest';
import { pgFaultOf } from '../../server/database/pg-fault.js';
import { transact } from '../../server/database/transaction.js';
import { mountedBolster } from '../../server/press/store.js';
import { testDatabase } from '../support/database.js';
import { LONG_AGO, plainMember, plainPlate, plainReport, plainRows } from '../support/plain-rows.js';

const database = await testDatabase();
const { memberId } = await plainRows(database);
const stewardId = await plainMember(database, 'Kofi');
const bolsterId = (await mountedBolster(database))?.id ?? '';

/** The name of the constraint that a change is refused by, with its SQLSTATE. */
async function refusedBy(change: Promise<unknown>) {
  const error = await change.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  return pgFaultOf(error);
}

interface Row {
  readonly plateId: string;
  readonly step: string;
  readonly decision?: string;
  readonly revision?: number;
  readonly bolsterVersion?: number;
  readonly readings?: string;
  readonly note?: string | null;
  readonly by?: string;
}

const MEASURED = '{"thicknessMm": [16, 16, 16, 16]}';

async function decide(given: Row, polymers: readonly string[] = []): Promise<string> {
  const { plateId, step, decision = 'clear', revision = 1, bolsterVersion = 1 } = given;
  const { readings = step === 'fit' ? MEASURED : '{}', note = 'Seen.', by = stewardId } = given;
  return transact(database, async (tx) => {
    const [row] = await tx.query<{ id: string }>(
      `insert into clearance (plate_id, revision, bolster_id, bolster_version, step, decision, readings, note,
         decided_by, decided_at) values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) returning id`,
      [plateId, revision, bolsterId, bolsterVersion, step, decision, readings, note, by, LONG_AGO],
    );
    const id = row?.id ?? '';
    for (const polymer of polymers) {
      await tx.query(
        `insert into clearance_report (clearance_id, polymer, report_id)
         select $1, $2, id from plate_report where plate_id = $3 and polymer = $2`,
        [id, polymer, plateId],
      );
    }
    return id;
  });
}

async function newPlate(): Promise<string> {
  const plateId = await plainPlate(database, memberId);
  await plainReport(database, plateId, 'clear');
  return plateId;
}

async function tried(): Promise<string> {
  const plateId = await newPlate();
  await decide({ plateId, step: 'fit' });
  await decide({ plateId, step: 'trial' });
  return plateId;
}

async function reached(plateId: string, revision = 1): Promise<string | undefined> {
  const [row] = await database.query<{ reached: string }>(
    'select clearance_reached($1, $2, $3, 1) as reached',
    [plateId, revision, bolsterId],
  );
  return row?.reached;
}

describe('whoever writes, the database', () => {
  it('takes the three steps in their order, and no step twice', async () => {
    const plateId = await newPlate();
    const expected = { sqlState: 'PS002', constraint: 'clearance_in_order' };
    expect(await refusedBy(decide({ plateId, step: 'trial' }))).toEqual(expected);
    await decide({ plateId, step: 'fit' });
    expect(await refusedBy(decide({ plateId, step: 'fit' }))).toEqual(expected);
    expect(await refusedBy(decide({ plateId, step: 'production' }, ['PP']))).toEqual(expected);
    await decide({ plateId, step: 'trial' });
    await decide({ plateId, step: 'production' }, ['PP']);
    await decide({ plateId, step: 'production' }, ['PP']);
    expect(await reached(plateId)).toBe('production');
  });

  it('lets nobody lift a plate up by refusing or taking back what was not due', async () => {
    const plateId = await newPlate();
    const expected = { sqlState: 'PS002', constraint: 'clearance_in_order' };
    for (const decision of ['refuse', 'void']) {
      expect(await refusedBy(decide({ plateId, step: 'production', decision }))).toEqual(expected);
    }
    expect(await reached(plateId)).toBe('none');
  });

  it('lets nobody decide about a plate of their own, but its owner may send it to rework', async () => {
    const plateId = await newPlate();
    const expected = { sqlState: 'PS005', constraint: 'clearance_never_own' };
    for (const decision of ['clear', 'refuse', 'void']) {
      expect(await refusedBy(decide({ plateId, step: 'fit', decision, by: memberId }))).toEqual(expected);
    }
    await decide({ plateId, step: 'fit' });
    await decide({ plateId, step: 'fit', decision: 'rework', by: memberId });
    expect(await reached(plateId)).toBe('none');
  });

  it('lets nobody decide about what they handed in, nor own what they cleared', async () => {
    const own = await plainPlate(database, stewardId);
    await database.query('update plate set owner_id = $2 where id = $1', [own, memberId]);
    expect(await refusedBy(decide({ plateId: own, step: 'fit' }))).toEqual({
      sqlState: 'PS005',
      constraint: 'clearance_never_own_drawing',
    });
    const cleared = await newPlate();
    await decide({ plateId: cleared, step: 'fit' });
    const taken = database.query('update plate set owner_id = $2 where id = $1', [cleared, stewardId]);
    expect(await refusedBy(taken)).toEqual({ sqlState: 'PS005', constraint: 'plate_owner_never_cleared' });
  });

  it('decides about the latest revision and the latest version of a bolster alone', async () => {
    const plateId = await tried();
    await database.query(
      `insert into plate_revision (plate_id, revision, dxf, dxf_sha256, file_name, facts, created_by, created_at)
       select plate_id, 2, dxf, dxf_sha256, file_name, facts, created_by, created_at from plate_revision
       where plate_id = $1`,
      [plateId],
    );
    expect(await reached(plateId)).toBe('none');
    expect(await refusedBy(decide({ plateId, step: 'fit' }))).toEqual({
      sqlState: 'PS002',
      constraint: 'clearance_latest_revision',
    });
    const unknown = await refusedBy(decide({ plateId, step: 'fit', revision: 2, bolsterVersion: 9 }));
    expect(unknown).toEqual({ sqlState: '23503', constraint: 'clearance_bolster' });
  });

  it('is told why, measured with four readings, and sends rework to fit', async () => {
    const plateId = await newPlate();
    const constraintOf = async (row: Omit<Row, 'plateId'>) =>
      (await refusedBy(decide({ plateId, ...row })))?.constraint;
    expect(await constraintOf({ step: 'fit', decision: 'refuse', note: null })).toBe('clearance_says_why');
    expect(await constraintOf({ step: 'fit', decision: 'refuse', note: '  ' })).toBe('clearance_note_length');
    expect(await constraintOf({ step: 'fit', readings: '{}' })).toBe('clearance_measured');
    expect(await constraintOf({ step: 'fit', readings: '{"thicknessMm": [16, 16]}' })).toBe(
      'clearance_measured',
    );
    expect(await constraintOf({ step: 'fit', decision: 'refuse', readings: '[]' })).toBe(
      'clearance_readings_object',
    );
    expect(await constraintOf({ step: 'sale' })).toMatch(/^clearance_(step|in_order)$/);
    await decide({ plateId, step: 'fit' });
    expect(await constraintOf({ step: 'trial', decision: 'rework' })).toBe('clearance_rework_is_to_fit');
    expect(await constraintOf({ step: 'trial', decision: 'praise' })).toBe('clearance_decision');
  });

  it('clears for production in at least one polymer, by a report of that very plate without a stop', async () => {
    const plateId = await tried();
    expect(await refusedBy(decide({ plateId, step: 'production' }))).toEqual({
      sqlState: 'PS004',
      constraint: 'clearance_names_polymers',
    });
    await plainReport(database, plateId, 'stop', 'ABS');
    const expected = { sqlState: 'PS003', constraint: 'clearance_report_fits' };
    expect(await refusedBy(decide({ plateId, step: 'production' }, ['ABS']))).toEqual(expected);
    const id = await decide({ plateId, step: 'production' }, ['PP']);
    const other = await newPlate();
    const foreign = database.query(
      `insert into clearance_report (clearance_id, polymer, report_id)
       select $1, 'HDPE', id from plate_report where plate_id = $2`,
      [id, other],
    );
    expect(await refusedBy(foreign)).toEqual(expected);
  });

  it.each(['clearance', 'clearance_report'])('never changes, deletes or empties %s', async (table) => {
    const plateId = await tried();
    await decide({ plateId, step: 'production' }, ['PP']);
    const expected = { sqlState: 'PS001', constraint: `${table}_append_only` };
    const column = table === 'clearance' ? 'note' : 'polymer';
    expect(await refusedBy(database.query(`update ${table} set ${column} = 'x'`))).toEqual(expected);
    expect(await refusedBy(database.query(`delete from ${table}`))).toEqual(expected);
    expect(await refusedBy(database.query(`truncate ${table} cascade`))).toMatchObject({ sqlState: 'PS001' });
  });

  it('keeps decisions that are written at once in the order in which they took the plate', async () => {
    const plateId = await newPlate();
    const outcomes = await Promise.all(
      Array.from({ length: 8 }, () => refusedBy(decide({ plateId, step: 'fit' }))),
    );
    expect(outcomes.filter((fault) => fault === undefined)).toHaveLength(1);
    expect(new Set(outcomes.map((fault) => fault?.constraint))).toEqual(
      new Set([undefined, 'clearance_in_order']),
    );
  });
});
