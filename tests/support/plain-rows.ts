import type { Database } from '../../server/database/database.js';
import type { Queryable } from '../../server/database/queryable.js';
import { transact } from '../../server/database/transaction.js';
import { accept } from '../../server/http/refused.js';
import { checkGround, reportKey } from '../../server/plates/check-ground.js';
import { insertClearance } from '../../server/plates/clearance/store.js';
import { insertReport, reportAt } from '../../server/plates/store.js';
import { addRules } from '../../server/shop/store.js';
import { samplePlate } from './gullwing.js';
import { furnishPress, gullwingRules } from './gullwing-house.js';
import { giveSignOffs } from './sign-offs.js';

/** Long before any instant a test uses. */
export const LONG_AGO = new Date('2020-01-01T00:00:00Z');

/** The few rows a booking stands on, written straight into a database. */
export interface PlainRows {
  readonly pressId: string;
  readonly equipmentId: string;
  readonly memberId: string;
  readonly plateId: string;
  /** Of revision 1 in PP on the mounted bolster. */
  readonly reportId: string;
  /** Of that report; null where it has a stop. */
  readonly clearanceId: string | null;
}

/**
 * A press with its rules, a member with one plate, and a report of it with the verdict wished. The drawing is
 * not one: for tests of what the database and the booking commands do with a report, whoever computed it.
 */
export async function plainRows(
  db: Database,
  verdict: 'clear' | 'stop' = 'clear',
  rules = gullwingRules,
): Promise<PlainRows> {
  await addRules(db, rules, LONG_AGO, null);
  const { pressId } = await furnishPress(db, LONG_AGO);
  const memberId = await plainMember(db, 'Wren');
  const plateId = await plainPlate(db, memberId);
  const { reportId, clearanceId } =
    verdict === 'clear'
      ? await clearedReport(db, plateId)
      : { reportId: await plainReport(db, plateId, verdict), clearanceId: null };
  const [equipment] = await db.query<{ id: string }>('select id from equipment where press_id = $1', [
    pressId,
  ]);
  return { pressId, equipmentId: equipment?.id ?? '', memberId, plateId, reportId, clearanceId };
}

/** A member who may book. */
export async function plainMember(db: Queryable, displayName: string): Promise<string> {
  const [row] = await db.query<{ id: string }>(
    `insert into member (email, display_name, role) values ($1, $2, 'member') returning id`,
    [`${displayName.toLowerCase()}@gullwing.example`, displayName],
  );
  await giveSignOffs(db, row?.id ?? '');
  return row?.id ?? '';
}

/** A plate in its first revision. */
export async function plainPlate(db: Queryable, ownerId: string): Promise<string> {
  const [row] = await db.query<{ id: string }>(
    `insert into plate (owner_id, name, created_at) values ($1, 'Tile spacer', $2) returning id`,
    [ownerId, LONG_AGO],
  );
  await addPlainRevision(db, row?.id ?? '', 1, ownerId);
  return row?.id ?? '';
}

async function addPlainRevision(db: Queryable, plateId: string, revision: number, by: string) {
  await db.query(
    `insert into plate_revision (plate_id, revision, dxf, dxf_sha256, file_name, facts, created_by, created_at)
     values ($1, $2, '\\x30', repeat('0', 64), 'plate.dxf', $3, $4, $5)`,
    [plateId, revision, JSON.stringify(samplePlate), by, LONG_AGO],
  );
}

/** A report with one finding of the verdict, under the key in force. */
export async function plainReport(
  db: Queryable,
  plateId: string,
  verdict: 'clear' | 'stop',
  polymer = 'PP',
  revision = 1,
  findings: readonly { readonly check: string; readonly verdict: string }[] = [
    { check: 'daylight', verdict },
  ],
): Promise<string> {
  const key = reportKey(accept(await checkGround(db, new Date(), null)), plateId, revision, polymer);
  await insertReport(db, key, verdict, JSON.stringify({ verdict, findings }), LONG_AGO);
  return (await reportAt(db, key))?.id ?? '';
}

/** A clear report of a revision, and the plate taken through its three steps with it, long ago. */
export async function clearedReport(
  db: Database,
  plateId: string,
  polymer = 'PP',
  revision = 1,
): Promise<{ readonly reportId: string; readonly clearanceId: string }> {
  const reportId = await plainReport(db, plateId, 'clear', polymer, revision);
  const ground = accept(await checkGround(db, new Date(), null));
  const [steward] = await db.query<{ id: string }>(
    `insert into member (display_name, role, state, left_at, created_at)
     values ('Somebody who left', 'steward', 'left', $1, $1) returning id`,
    [LONG_AGO],
  );
  const decision = {
    plateId,
    revision,
    bolsterId: ground.bolster.id,
    bolsterVersion: ground.bolster.version,
    decision: 'clear',
    readings: null,
    trialRunId: null,
    note: null,
    by: steward?.id ?? '',
    at: LONG_AGO,
    reports: [],
  } as const;
  const thicknessMm = [16, 16, 16, 16] as const;
  const readings = {
    thicknessMm,
    holes: [],
    feedDiameterMm: null,
    feedDepthMm: null,
    burrsRemoved: true,
    headsBelowFace: true,
    judged: [],
  };
  const reports = [{ polymer, reportId, cautions: [] }];
  return transact(db, async (tx) => {
    await insertClearance(tx, { ...decision, step: 'fit', readings });
    await insertClearance(tx, { ...decision, step: 'trial' });
    return { reportId, clearanceId: await insertClearance(tx, { ...decision, step: 'production', reports }) };
  });
}
