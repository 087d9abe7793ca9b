import type { Queryable } from '../database/queryable.js';
import { signOffsOf } from './sign-off-store.js';
import { openRequests, readingsOf } from './store.js';
import type { OwnWay } from './views.js';

/** All that a member has on their way through the inductions. */
export async function ownWay(db: Queryable, memberId: string): Promise<OwnWay> {
  const [signOffs, readings, requests] = await Promise.all([
    signOffsOf(db, memberId),
    readingsOf(db, memberId),
    openRequests(db, memberId),
  ]);
  return { signOffs, readings, requests };
}
