import type { Queryable } from '../database/queryable.js';
import { Refusal, refuse } from '../reasons.js';
import { checkGround, reportKey } from './check-ground.js';
import { checkOn } from './check-now.js';
import type { CheckReport } from './check-report-schema.js';
import type { Checks } from './checking-house.js';
import { drawingOf, insertReport, reportAt, revisionOf, type StoredReport } from './store.js';

export interface ReportWish {
  readonly plateId: string;
  readonly revision: number;
  readonly polymer: string;
  /** Null: the mounted one. */
  readonly bolsterId: string | null;
}

/**
 * The report of a revision with a resin on a bolster as it is now, computed if it never was and stored once.
 * Nobody's permission is asked here: that is for who calls.
 */
export async function storedReport(
  house: { readonly checks: Pick<Checks, 'check'>; readonly database: Queryable; readonly now: () => Date },
  wish: ReportWish,
): Promise<StoredReport<CheckReport> | Refusal> {
  const { database, now } = house;
  const ground = await checkGround(database, now(), wish.bolsterId);
  if (ground instanceof Refusal) return ground;
  const key = reportKey(ground, wish.plateId, wish.revision, wish.polymer);
  const known = await reportAt<CheckReport>(database, key);
  if (known !== undefined) return known;
  const [revision, drawing] = await Promise.all([
    revisionOf(database, wish.plateId, wish.revision),
    drawingOf(database, wish.plateId, wish.revision),
  ]);
  if (revision === undefined || drawing === undefined)
    return refuse('not-found', { figures: { what: 'revision' } });
  const wanted = { dxf: drawing.dxf, facts: revision.facts, polymer: wish.polymer };
  const done = await checkOn(house, ground, wanted);
  if (done instanceof Refusal) return done;
  const { report } = done;
  await insertReport(database, key, report.verdict, report, now());
  const stored = await reportAt<CheckReport>(database, key);
  if (stored === undefined) throw new Error('A report is not there after it was stored.');
  return stored;
}
