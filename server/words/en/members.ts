import type { Role } from '../../context.js';
import type { MemberState } from '../../members/store.js';
import { momentText } from './times.js';

/** What stands for the name of a member who left; names nobody, and tells one from another. */
export function pseudonymOf(memberId: string): string {
  return `Former member ${memberId.slice(0, 8)}`;
}

export const ROLE_WORDS = {
  member: 'member',
  steward: 'steward',
  admin: 'admin',
} as const satisfies { readonly [role in Role]: string };

/** As a sentence goes on with it: "You are a steward now". */
export const A_ROLE = {
  member: 'a member',
  steward: 'a steward',
  admin: 'an admin',
} as const satisfies { readonly [role in Role]: string };

export const STATE_WORDS = {
  active: 'active',
  suspended: 'suspended',
  left: 'left',
} as const satisfies { readonly [state in MemberState]: string };

/** What each choice of a filter by state says. */
export const STATE_FILTER = {
  '': 'All but who left',
  active: 'Active',
  suspended: 'Suspended',
  left: 'Left',
} as const;

/** What the fields of these forms are missing. */
export const MEMBER_FORM_ERRORS = {
  email: 'Give an e-mail address such as wren@example.org.',
  displayName: 'Give a name, at most 60 characters.',
  role: 'Choose a role.',
  reason: 'Give a reason in a few words; the member can read it.',
  password: 'Give a password.',
  current: 'Give the password you have now.',
  table: 'Choose a CSV file.',
} as const;

/** Before a second invitation of one address takes the place of the first. */
export function invitedAlready(
  waiting: { readonly displayName: string; readonly handedBy: string; readonly expiresAt: Date },
  timeZone: string,
) {
  return {
    verdict: 'caution',
    strong: 'This address is invited already.',
    text:
      `${waiting.handedBy} made a link for ${waiting.displayName}, good until ${momentText(waiting.expiresAt, timeZone)}. ` +
      'A new link makes that one worthless: send this once more only if it is lost.',
    alert: true,
  } as const;
}

/** What has just been done, on the sheet it was done from. */
export const MEMBER_NOTICES = {
  role: { word: 'kept', text: 'The role is changed. The member signs in anew with it.' },
  suspended: { word: 'done', text: 'The member is suspended; every session of theirs has ended.' },
  active: { word: 'done', text: 'The suspension has ended. The member can sign in again.' },
  'signed-out': { word: 'done', text: 'Every session of the member has ended.' },
  left: {
    word: 'done',
    text: 'The person is forgotten; what they did stays under a name that names nobody.',
  },
  withdrawn: { word: 'done', text: 'The invitation is withdrawn; its link works no more.' },
} as const;

export const ACCOUNT_NOTICES = {
  name: { word: 'kept', text: 'Others see the new name from now on.' },
  password: { word: 'kept', text: 'The new password holds. Every other session of yours has ended.' },
} as const;

export const SIGN_IN_NOTICES = {
  founded: {
    word: 'founded',
    text: 'The makerspace is founded. Sign in with the account that you have just made.',
  },
  joined: { word: 'welcome', text: 'Your account is made. Sign in with the password you have just chosen.' },
  reset: { word: 'kept', text: 'The new password holds. Sign in with it.' },
  left: { word: 'done', text: 'Your account is closed and who you were here is forgotten.' },
} as const;
