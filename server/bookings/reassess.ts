import type { Tx } from '../database/transaction.js';
import type { Asker } from '../http/asker.js';
import { standingStewards } from '../inductions/sign-off-store.js';
import { notify } from '../notices/notify.js';
import { checkGround, reportKey } from '../plates/check-ground.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { insertReassessment } from '../plates/reassessments/store.js';
import { standingOf, standingsOf } from '../plates/store.js';
import { storedReport } from '../plates/stored-report.js';
import { Refusal } from '../reasons.js';
import { checksWorse } from './foresee.js';
import { type PlateAtStake, platesAtStake } from './plates-at-stake.js';

/** The service asks for itself, among its members. */
const THE_SERVICE: Asker = { name: 'the service', member: true };

/**
 * Makes every report that is missing of plates that are booked or in production, on the ground as it is now: after a
 * release with another engine or other resin data, and where a change was not foreseen. One after the other, outside
 * any transaction; a second process finds them made.
 */
export async function makeMissingReports(
  house: Pick<CheckingHouse, 'checks' | 'database' | 'now'>,
): Promise<void> {
  for (const { plateId, revision, polymer, rulesAt } of await platesAtStake(house.database, house.now())) {
    await storedReport(house, { plateId, revision, polymer, bolsterId: null, rulesAt }, THE_SERVICE);
  }
}

/**
 * Holds the present report of every plate that is booked or in production against the one it stands on, writes down
 * what got worse and tells its owner and the stewards, once.
 */
export async function reassess(tx: Tx, at: Date): Promise<void> {
  const plates = await platesAtStake(tx, at);
  const stewards = await standingStewards(tx, at);
  const before = await standingsOf(
    tx,
    plates.map(({ reportId }) => reportId),
  );
  for (const plate of plates) {
    const after = await reportNow(tx, plate, at);
    const was = before.get(plate.reportId);
    if (after === undefined || was === undefined || after.id === was.id) continue;
    const worse = checksWorse(was, after);
    if (worse.length === 0) continue;
    if (await insertReassessment(tx, { beforeId: was.id, afterId: after.id, worse, at })) {
      await notify(tx, {
        memberIds: [plate.ownerId, ...stewards],
        kind: 'plate-says-worse',
        figures: { plate: plate.plateName, polymer: plate.polymer, worse: JSON.stringify(worse) },
        href: `/plates/${plate.plateId}?polymer=${encodeURIComponent(plate.polymer)}`,
        at,
      });
    }
  }
}

async function reportNow(tx: Tx, { plateId, revision, polymer, rules }: PlateAtStake, at: Date) {
  const ground = await checkGround(tx, at, null);
  if (ground instanceof Refusal) return undefined;
  return await standingOf(tx, reportKey({ ...ground, rules }, plateId, revision, polymer));
}
