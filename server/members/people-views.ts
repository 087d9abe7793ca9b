import { type Actor, ROLES } from '../context.js';
import { ROLE_WORDS, STATE_FILTER, STATE_WORDS } from '../words/en/members.js';
import { momentText } from '../words/en/times.js';
import { subjectOf } from './acted-on.js';
import type { Invitation } from './links.js';
import { may } from './permissions.js';
import type { Member } from './store.js';
import type { MemberView } from './views.js';

/** The list of members and the filter above it, as the page shows them. */
export function memberLines(
  members: readonly Member[],
  asked: { readonly search: string | null; readonly state: string | null },
  timeZone: string,
) {
  return {
    rows: members.map(({ id, displayName, email, role, state, createdAt }) => ({
      href: `/members/${id}`,
      name: displayName,
      email: email ?? '',
      role: ROLE_WORDS[role],
      state: STATE_WORDS[state],
      attention: state === 'suspended',
      since: momentText(createdAt, timeZone),
    })),
    search: asked.search ?? '',
    states: Object.entries(STATE_FILTER).map(([value, text]) => ({
      value,
      text,
      selected: value === (asked.state ?? ''),
    })),
  };
}

/** Open invitations; the button stands where the actor may withdraw. */
export function invitationLines(
  actor: Actor,
  invitations: readonly Invitation[],
  now: Date,
  timeZone: string,
) {
  return invitations.map(({ id, displayName, email, role, handedBy, expiresAt }) => ({
    name: displayName,
    email,
    role: ROLE_WORDS[role],
    handedBy,
    until: momentText(expiresAt, timeZone),
    expired: expiresAt <= now,
    ...(may(actor, 'member-invite', { role }) && { withdraw: `/members/invitations/${id}/withdraw` }),
  }));
}

export function memberFacts(member: MemberView, timeZone: string) {
  return [
    { label: 'Name', value: member.displayName, strong: true },
    { label: 'E-mail address', value: member.email ?? 'forgotten' },
    { label: 'Role', value: ROLE_WORDS[member.role] },
    { label: 'State', value: STATE_WORDS[member.state] },
    { label: 'Here since', value: momentText(member.createdAt, timeZone) },
  ];
}

/** What the actor may do to a member, as far as it makes sense now. */
export function memberActions(actor: Actor, member: MemberView) {
  const subject = subjectOf(member);
  const here = member.state !== 'left';
  const maySuspend = here && may(actor, 'member-suspend', subject);
  return {
    ...(here && may(actor, 'member-role', subject) && { roles: roleOptions(member.role) }),
    suspend: maySuspend && member.state === 'active',
    endSuspension: maySuspend && member.state === 'suspended',
    handReset: member.state === 'active' && may(actor, 'member-reset', subject),
    signOut: member.state === 'active' && may(actor, 'member-sign-out', subject),
    letGo: here && member.id !== actor.memberId && may(actor, 'member-leave', subject),
  };
}

function roleOptions(now: Member['role']) {
  return ROLES.map((role) => ({ value: role, text: ROLE_WORDS[role], selected: role === now }));
}

export function suspensionLines({ suspensions }: MemberView, timeZone: string) {
  return suspensions.map((one) => ({
    from: momentText(one.suspendedAt, timeZone),
    by: one.suspendedBy,
    reason: one.reason ?? 'forgotten',
    ...(one.endedAt !== null && {
      until: momentText(one.endedAt, timeZone),
      endedBy: one.endedBy ?? '',
      endReason: one.endReason ?? 'forgotten',
    }),
  }));
}
