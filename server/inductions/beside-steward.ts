import type { Ctx } from '../context.js';
import { memberBesideActor } from '../members/acted-on.js';
import type { Member } from '../members/store.js';
import { Refusal, refuse } from '../reasons.js';
import { stewardsNow } from './standing.js';

/**
 * A member, held together with the steward who acts on them. Whether the steward stewards is asked anew: it may
 * have been revoked since the request began, and whoever revokes it waits from here on.
 */
export async function memberBesideSteward(ctx: Ctx, memberId: string): Promise<Member | undefined | Refusal> {
  const { actor, now, tx } = ctx;
  const member = await memberBesideActor(ctx, memberId);
  if (member instanceof Refusal) return member;
  if (await stewardsNow(tx, actor.memberId, now)) return member;
  return refuse('not-allowed', { figures: { needs: 'a steward' } });
}
