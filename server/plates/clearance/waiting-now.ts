import type { Queryable } from '../../database/queryable.js';
import { mountedBolster } from '../../press/store.js';
import { type PlateWaiting, platesWaiting } from './store.js';

/** Plates that wait for a steward's next decision on the mounted bolster, the longest first. */
export async function platesWaitingNow(db: Queryable): Promise<readonly PlateWaiting[]> {
  const mounted = await mountedBolster(db);
  if (mounted === undefined) return [];
  return platesWaiting(db, { bolsterId: mounted.id, bolsterVersion: mounted.version });
}
