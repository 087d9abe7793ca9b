import type { Queryable } from '../database/queryable.js';
import { Refusal } from '../reasons.js';
import { checkGround, reportKey } from './check-ground.js';
import { type PlateVerdict, verdictsOf } from './store.js';

/**
 * What the newest report says of each of these plates' latest revisions on the bolster that is mounted, by plate;
 * those that were not checked there as it is now are left out. Nothing is computed.
 */
export async function verdictsNow(
  db: Queryable,
  now: Date,
  plateIds: readonly string[],
): Promise<ReadonlyMap<string, PlateVerdict>> {
  const ground = await checkGround(db, now, null);
  if (ground instanceof Refusal) return new Map();
  const { plateId: _plate, revision: _revision, polymer: _polymer, ...key } = reportKey(ground, '', 0, '');
  const found = await verdictsOf(db, plateIds, key);
  return new Map(found.map((one) => [one.plateId, one]));
}
