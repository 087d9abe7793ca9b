import { type Listeners, tell } from '../listeners.js';
import { Refusal, refuse } from '../reasons.js';
import { memberActedOn, type PeopleCtx } from './acted-on.js';
import { recordOfMember } from './record-of-member.js';
import { setState } from './store.js';
import { endOpenSuspension } from './suspensions.js';

/** Ends a suspension; the member signs in anew. */
export async function endSuspension(
  ctx: PeopleCtx,
  listeners: Pick<Listeners, 'suspensionEnded'>,
  wanted: { readonly memberId: string; readonly reason: string },
): Promise<string | Refusal> {
  const member = await memberActedOn(ctx, 'member-suspend', wanted.memberId);
  if (member instanceof Refusal) return member;
  if (member.state !== 'suspended') return refuse('not-suspended');
  const { actor, now, tx } = ctx;
  await setState(tx, member.id, 'active');
  await endOpenSuspension(tx, member.id, { by: actor.memberId, at: now, reason: wanted.reason });
  await recordOfMember(ctx, 'suspension-ended', member.id);
  await tell(listeners.suspensionEnded, tx, { memberId: member.id, at: now, actorId: actor.memberId });
  return member.id;
}
