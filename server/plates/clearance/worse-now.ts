import { memberAsking } from '../../http/asker.js';
import { Refusal } from '../../reasons.js';
import { worseText } from '../../words/en/clearance.js';
import { storedReport } from '../stored-report.js';
import type { PlateOnBench } from './bench.js';
import { checkName } from './check-name.js';
import { findingsOf } from './reasons-against.js';
import { worseThanAccepted } from './standing.js';

/** What today's reports say worse than what was accepted when the plate was cleared, polymer by polymer. */
export async function worseNow({ house, actor, plate, revision, ground, standing }: PlateOnBench) {
  const worse = [];
  for (const polymer of standing.polymers) {
    const wish = { plateId: plate.id, revision: revision.revision, polymer, bolsterId: ground.bolster.id };
    const report = await storedReport(house, wish, memberAsking(actor));
    if (report instanceof Refusal) continue;
    for (const one of worseThanAccepted(standing, { polymer, findings: findingsOf(report.json) }))
      worse.push({
        name: checkName(one.check),
        verdict: one.now,
        text: worseText(polymer, one.accepted),
      });
  }
  return worse;
}
