import type { Actor } from '../context.js';
import { may } from '../members/permissions.js';
import { FLOOR_ACTIONS } from './actions.js';
import type { TrailAsked } from './store.js';

/** How much of the trail a member may see: their own entries, the floor's, or all. */
export function trailSeenBy(actor: Actor): TrailAsked['seen'] {
  if (may(actor, 'audit-see')) return null;
  const floor = may(actor, 'audit-see', { floor: true });
  return { ownerId: actor.memberId, actions: floor ? FLOOR_ACTIONS : [] };
}

const NOBODY = '00000000-0000-0000-0000-000000000000';

/** What happened on the floor, whoever did it, and nothing else: for a sheet that several look at. */
export const FLOOR_SEEN: TrailAsked['seen'] = { ownerId: NOBODY, actions: FLOOR_ACTIONS };
