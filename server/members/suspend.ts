import { type Listeners, tell } from '../listeners.js';
import { Refusal, refuse } from '../reasons.js';
import { memberActedOn, type PeopleCtx } from './acted-on.js';
import { endRights } from './end-rights.js';
import { lastAdminInstead } from './last-admin-instead.js';
import { recordOfMember } from './record-of-member.js';
import { setState } from './store.js';
import { beginSuspension } from './suspensions.js';

/** Suspends a member: every session ends at once and none begins until the suspension ends. */
export async function suspend(
  ctx: PeopleCtx,
  listeners: Pick<Listeners, 'memberSuspended'>,
  wanted: { readonly memberId: string; readonly reason: string },
): Promise<string | Refusal> {
  const member = await memberActedOn(ctx, 'member-suspend', wanted.memberId);
  if (member instanceof Refusal) return member;
  if (member.state === 'suspended') return refuse('already-suspended');
  const { actor, now, tx } = ctx;
  const refused = await lastAdminInstead(setState(tx, member.id, 'suspended'));
  if (refused !== undefined) return refused;
  await beginSuspension(tx, member.id, { by: actor.memberId, at: now, reason: wanted.reason });
  await endRights(tx, member.id, now);
  await recordOfMember(ctx, 'member-suspended', member.id);
  await tell(listeners.memberSuspended, tx, { memberId: member.id, at: now, actorId: actor.memberId });
  return member.id;
}
