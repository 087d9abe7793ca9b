import type { Queryable } from '../../database/queryable.js';
import { bolsters } from '../../press/store.js';
import type { Plate } from '../store.js';
import { clearancesOf } from './store.js';
import type { Since } from './void-because.js';

/** Every decision about a plate, latest first, with what it is held against to see which of them stand. */
export async function historyOf(db: Queryable, plate: Plate): Promise<Since> {
  const decisions = await clearancesOf(db, plate.id, null);
  const all = await bolsters(db);
  return {
    latestRevision: plate.latestRevision,
    bolsterVersions: new Map(all.map(({ id, version }) => [id, version])),
    decisions,
  };
}
