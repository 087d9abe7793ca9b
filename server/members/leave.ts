import { type Listeners, tell } from '../listeners.js';
import { Refusal } from '../reasons.js';
import { pseudonymOf } from '../words/en/members.js';
import { memberActedOn, type PeopleCtx } from './acted-on.js';
import { endRights } from './end-rights.js';
import { lastAdminInstead } from './last-admin-instead.js';
import { recordOfMember } from './record-of-member.js';
import { forgetMember } from './store.js';
import { endOpenSuspension } from './suspensions.js';

/**
 * Lets a member go: name, address and password are forgotten, what they did stays under a pseudonym, what they
 * still had booked is given back. There is no way back; who returns is invited anew.
 */
export async function leave(
  ctx: PeopleCtx,
  listeners: Pick<Listeners, 'memberLeft'>,
  { memberId }: { readonly memberId: string },
): Promise<string | Refusal> {
  const member = await memberActedOn(ctx, 'member-leave', memberId);
  if (member instanceof Refusal) return member;
  const { actor, now, tx } = ctx;
  const by = { by: actor.memberId, at: now, reason: null };
  if (member.state === 'suspended') await endOpenSuspension(tx, member.id, by);
  const refused = await lastAdminInstead(forgetMember(tx, member.id, pseudonymOf(member.id), now));
  if (refused !== undefined) return refused;
  await endRights(tx, member.id, now);
  await recordOfMember(ctx, 'member-left', member.id);
  const left = { memberId: member.id, nameBefore: member.displayName, at: now, actorId: actor.memberId };
  await tell(listeners.memberLeft, tx, left);
  return member.id;
}
