import type { Role } from '../context.js';
import { notify } from '../notices/notify.js';
import { Refusal } from '../reasons.js';
import { A_ROLE } from '../words/en/members.js';
import { memberActedOn, type PeopleCtx } from './acted-on.js';
import { endRights } from './end-rights.js';
import { lastAdminInstead } from './last-admin-instead.js';
import { recordOfMember } from './record-of-member.js';
import { setRole } from './store.js';

/** Gives a member another role. They sign in anew with it; the last admin keeps theirs. */
export async function changeRole(
  ctx: PeopleCtx,
  wanted: { readonly memberId: string; readonly role: Role },
): Promise<string | Refusal> {
  const member = await memberActedOn(ctx, 'member-role', wanted.memberId);
  if (member instanceof Refusal) return member;
  if (member.role === wanted.role) return member.id;
  const { now, tx } = ctx;
  const refused = await lastAdminInstead(setRole(tx, member.id, wanted.role));
  if (refused !== undefined) return refused;
  await endRights(tx, member.id, now);
  await notify(tx, {
    memberIds: [member.id],
    kind: 'role-changed',
    figures: { role: A_ROLE[wanted.role] },
    href: '/account',
    at: now,
  });
  await recordOfMember(ctx, 'role-changed', member.id, { from: member.role, to: wanted.role });
  return member.id;
}
