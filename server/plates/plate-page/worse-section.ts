import { changedText, worseLines, worstOf } from '../../words/en/reassessments.js';
import { reassessmentsNow } from '../reassessments/store.js';
import type { PlateOnView } from './plate-on-view.js';

/** What the plate's check says worse since what it is checked against has changed, a notice for each resin. */
export async function worseSection({ house, plate }: PlateOnView) {
  const found = await reassessmentsNow(house.database, house.now(), plate.id);
  return found.map(({ polymer, worse, changed }) => ({
    verdict: worstOf(worse),
    strong: `In ${polymer}: ${worseLines(worse).join(' ')}`,
    text: `Why: ${changedText(changed)}.`,
  }));
}
