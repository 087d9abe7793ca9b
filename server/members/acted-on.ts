import type { Actor, Ctx, StewardsAt } from '../context.js';
import { Refusal, refuse } from '../reasons.js';
import { type Action, refusalUnless, type Subject } from './permissions.js';
import { type Member, membersHeld } from './store.js';

/** What a command on people is given: the inductions, which come later, know who stewards. */
export interface PeopleCtx extends Ctx {
  readonly stewardsAt: StewardsAt;
}

/** What the table is asked about a member. */
export function subjectOf({ id, role }: Pick<Member, 'id' | 'role'>): Subject {
  return { ownerId: id, role };
}

/**
 * The member that an actor may do this to, held together with the actor: rights that shrink at the same moment
 * come before or after what was done by them, never halfway. Whether the actor stewards is asked anew.
 */
export async function memberActedOn(
  ctx: PeopleCtx,
  action: Action,
  memberId: string,
): Promise<Member | Refusal> {
  const member = await memberBesideActor(ctx, memberId);
  if (member instanceof Refusal) return member;
  if (member === undefined) return refuse('not-found', { figures: { what: 'member' } });
  const seen = { by: 'member-see', what: 'member' } as const;
  const forbidden = refusalUnless(await asTheyAreNow(ctx), action, subjectOf(member), seen);
  if (forbidden !== undefined) return forbidden;
  return member.state === 'left' ? refuse('member-left') : member;
}

/** A member, held together with the actor; a refusal once the actor is not what they were when they asked. */
export async function memberBesideActor(
  { actor, tx }: Pick<Ctx, 'actor' | 'tx'>,
  memberId: string,
): Promise<Member | undefined | Refusal> {
  const held = await membersHeld(tx, [actor.memberId, memberId]);
  return isAsItWas(actor, held) ? held.find(({ id }) => id === memberId) : refuse('session-ended');
}

/** As `memberActedOn` where there is nobody to act on yet: the actor, held, as they are now. */
export async function actorHeld(ctx: PeopleCtx): Promise<Actor | Refusal> {
  const { actor, tx } = ctx;
  if (!isAsItWas(actor, await membersHeld(tx, [actor.memberId]))) return refuse('session-ended');
  return asTheyAreNow(ctx);
}

/** Their sign-off may have been revoked since the request began; once they are held, whoever revokes it waits. */
async function asTheyAreNow({ actor, now, tx, stewardsAt }: PeopleCtx): Promise<Actor> {
  return actor.stewards ? { ...actor, stewards: await stewardsAt(tx, actor.memberId, now) } : actor;
}

function isAsItWas({ memberId, role }: Ctx['actor'], held: readonly Member[]): boolean {
  return held.some((member) => member.id === memberId && member.state === 'active' && member.role === role);
}
