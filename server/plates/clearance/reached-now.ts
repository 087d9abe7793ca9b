import type { Queryable } from '../../database/queryable.js';
import { mountedBolster } from '../../press/store.js';
import type { Reached } from './steps.js';
import { stepsReachedBy } from './store.js';

/** How far the latest revisions of plates have come on the bolster that is mounted; nowhere while none is. */
async function reachedNow(db: Queryable, plateIds: readonly string[]): Promise<ReadonlyMap<string, Reached>> {
  const mounted = await mountedBolster(db);
  if (mounted === undefined) return new Map();
  return stepsReachedBy(db, plateIds, { bolsterId: mounted.id, bolsterVersion: mounted.version });
}

/** Whether a plate may be booked for production as far as clearance goes, on the bolster that is mounted. */
export async function isClearedNow(db: Queryable, plateId: string): Promise<boolean> {
  return (await reachedNow(db, [plateId])).get(plateId) === 'production';
}
