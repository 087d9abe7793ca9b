import type { Asker } from '../../http/asker.js';
import { Refusal } from '../../reasons.js';
import { checkGround } from '../check-ground.js';
import { type CheckDone, checkOn } from '../check-now.js';
import { type CheckResult, checkResult } from '../check-page.js';
import type { CheckingHouse } from '../checking-house.js';
import { drawingOf, type Revision } from '../store.js';
import { storedReport } from '../stored-report.js';

/** A stored report with what it takes to draw it. */
export interface SeenReport {
  readonly done: CheckDone;
  readonly result: CheckResult;
  readonly checkedAt: Date;
}

/** The stored report with what it takes to draw it: the same inputs give the same findings again. */
export async function reportSeen(
  house: CheckingHouse,
  revision: Revision,
  polymer: string,
  asker: Asker,
): Promise<SeenReport | Refusal> {
  const { plateId, facts } = revision;
  const wish = { plateId, revision: revision.revision, polymer, bolsterId: null };
  const stored = await storedReport(house, wish, asker);
  if (stored instanceof Refusal) return stored;
  const ground = await checkGround(house.database, house.now(), null);
  if (ground instanceof Refusal) return ground;
  const file = await drawingOf(house.database, plateId, revision.revision);
  const done = await checkOn(house, ground, { dxf: file?.dxf ?? '', facts, polymer }, asker);
  if (done instanceof Refusal) return done;
  const result = checkResult({ ...done, facts, bolster: ground.bolster });
  return { done, result, checkedAt: stored.createdAt };
}
