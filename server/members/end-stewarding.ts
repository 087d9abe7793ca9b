import type { StewardsAt } from '../context.js';
import type { Listener, SignOffEnded } from '../listeners.js';
import { withdrawHandedBy } from './links.js';
import { endSessionsOf } from './session.js';
import { memberHeld } from './store.js';

/**
 * When the sign-off of who stewards is revoked or lapses, their sessions end and so do the links they handed over as
 * a steward. What an admin handed over stays: they may still.
 */
export function endStewarding(stewardsAt: StewardsAt): Listener<SignOffEnded> {
  return async (tx, { memberId, competence, at }) => {
    if (competence !== 'stewarding' || (await stewardsAt(tx, memberId, at))) return;
    const member = await memberHeld(tx, memberId);
    if (member === undefined || member.role === 'member') return;
    await endSessionsOf(tx, memberId, at);
    if (member.role !== 'admin') await withdrawHandedBy(tx, memberId, at);
  };
}
