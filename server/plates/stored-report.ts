import type { Queryable } from '../database/queryable.js';
import type { Asker } from '../http/asker.js';
import { Refusal, refuse } from '../reasons.js';
import { checkGround, reportKey } from './check-ground.js';
import { reportOn } from './check-now.js';
import type { Checks } from './checking-house.js';
import { drawingOf, insertReport, reportAt, revisionOf, type StoredReport } from './store.js';

export interface ReportWish {
  readonly plateId: string;
  readonly revision: number;
  readonly polymer: string;
  /** Null: the mounted one. */
  readonly bolsterId: string | null;
  /** The instant whose shop rules hold for it; now when left out. */
  readonly rulesAt?: Date;
}

/**
 * The report of a revision with a resin on a bolster as it is now, computed if it never was and stored once.
 * Nobody's permission is asked here: that is for who calls.
 */
export async function storedReport(
  house: { readonly checks: Pick<Checks, 'report'>; readonly database: Queryable; readonly now: () => Date },
  wish: ReportWish,
  asker: Asker,
): Promise<StoredReport | Refusal> {
  const { database, now } = house;
  const ground = await checkGround(database, wish.rulesAt ?? now(), wish.bolsterId);
  if (ground instanceof Refusal) return ground;
  const key = reportKey(ground, wish.plateId, wish.revision, wish.polymer);
  const known = await reportAt(database, key);
  if (known !== undefined) return known;
  const revision = await revisionOf(database, wish.plateId, wish.revision);
  const drawing = await drawingOf(database, wish.plateId, wish.revision);
  if (revision === undefined || drawing === undefined)
    return refuse('not-found', { figures: { what: 'revision' } });
  const wanted = { dxf: drawing.dxf, facts: revision.facts, polymer: wish.polymer };
  const made = await reportOn(house, ground, wanted, asker);
  if (made instanceof Refusal) return made;
  await insertReport(database, key, made.verdict, Buffer.from(made.json).toString(), now());
  const stored = await reportAt(database, key);
  if (stored === undefined) throw new Error('A report is not there after it was stored.');
  return stored;
}
