import type { Actor } from '../../context.js';
import type { Queryable } from '../../database/queryable.js';
import { may } from '../../members/permissions.js';
import { type Refusal, refuse } from '../../reasons.js';
import { type NearMiss, nearMissById } from './store.js';

/** A near miss that the actor may see: who told of it, and stewards. */
export async function visibleNearMiss(
  db: Queryable,
  actor: Actor,
  nearMissId: string,
): Promise<NearMiss | Refusal> {
  const nearMiss = await nearMissById(db, nearMissId);
  return nearMiss !== undefined && may(actor, 'near-miss-see', { ownerId: nearMiss.reportedBy })
    ? nearMiss
    : refuse('not-found', { figures: { what: 'near miss' } });
}
