import { Refusal } from '../reasons.js';
import { memberActedOn, type PeopleCtx } from './acted-on.js';
import { recordOfMember } from './record-of-member.js';
import { endSessionsOf } from './session.js';

/** Ends every session of somebody else: a lost phone, a computer left open. */
export async function signOutMember(
  ctx: PeopleCtx,
  { memberId }: { readonly memberId: string },
): Promise<string | Refusal> {
  const member = await memberActedOn(ctx, 'member-sign-out', memberId);
  if (member instanceof Refusal) return member;
  const sessions = await endSessionsOf(ctx.tx, member.id, ctx.now);
  await recordOfMember(ctx, 'member-signed-out', member.id, { sessions });
  return member.id;
}
