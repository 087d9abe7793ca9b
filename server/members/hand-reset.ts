import { Refusal, refuse } from '../reasons.js';
import { memberActedOn, type PeopleCtx } from './acted-on.js';
import { insertReset } from './links.js';
import { newLink } from './one-time-link.js';
import { recordOfMember } from './record-of-member.js';

/** A link by which a member sets a new password, told this once. */
export interface ResetHanded {
  readonly path: string;
  readonly expiresAt: Date;
}

/** Makes a link to hand to a member who cannot sign in; nobody but they choose the password. */
export async function handReset(
  ctx: PeopleCtx,
  { memberId }: { readonly memberId: string },
): Promise<ResetHanded | Refusal> {
  const member = await memberActedOn(ctx, 'member-reset', memberId);
  if (member instanceof Refusal) return member;
  if (member.state === 'suspended') return refuse('member-suspended');
  const { actor, now, tx } = ctx;
  const { path, tokenHash, expiresAt } = newLink('reset', now);
  await insertReset(tx, { memberId: member.id, tokenHash, expiresAt }, { by: actor.memberId, at: now });
  await recordOfMember(ctx, 'reset-handed', member.id);
  return { path, expiresAt };
}
