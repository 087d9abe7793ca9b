import { mountedBolster } from '../../press/store.js';
import { historyOf } from '../clearance/history.js';
import { nextText } from '../clearance/next-text.js';
import { standingClearance } from '../clearance/standing.js';
import { stepViews } from '../clearance/steps-view.js';
import { isLatest, type PlateOnView } from './plate-on-view.js';

/** How far the latest revision has come on the mounted bolster. Data of `plate-clearance.hbs`. */
export async function clearanceSection(seen: PlateOnView) {
  const { house, plate, rules } = seen;
  const mounted = await mountedBolster(house.database);
  if (mounted === undefined || !isLatest(seen)) return undefined;
  const about = { revision: plate.latestRevision, bolsterId: mounted.id };
  const [standing, since] = await Promise.all([
    standingClearance(house.database, { plateId: plate.id, bolsterVersion: mounted.version, ...about }),
    historyOf(house.database, plate),
  ]);
  const last = since.decisions.find(
    (made) => made.bolsterId === about.bolsterId && made.revision === about.revision,
  );
  return {
    steps: stepViews(standing, about, since, rules.timeZone),
    next: `${mounted.name}: ${nextText({ plate, standing }, last?.decision === 'refuse')}`,
    refusedBecause: standing.refusedBecause ?? '',
    href: `/plates/${plate.id}/clearance`,
  };
}
