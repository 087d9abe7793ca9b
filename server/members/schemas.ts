import { z } from 'zod';
import { ROLES } from '../context.js';
import { pageOf, pageQuery } from '../http/cursor.js';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { exactText, text } from '../http/text.js';
import { MEMBER_STATES } from './store.js';

/** A member as the member sees themselves. */
const ownMember = z
  .object({ id, email: z.string().nullable(), displayName: z.string(), role: z.enum(ROLES) })
  .meta({ id: 'OwnMember' });

/** At least 64 characters have to fit (ASVS 6.2.9); far beyond that nobody types. */
export const PASSWORD_LENGTH_MAX = 256;

export const DISPLAY_NAME_LENGTH_MAX = 60;
export const EMAIL_LENGTH_MAX = 254;
export const REASON_LENGTH_MAX = 500;

const EMAIL_SHAPE = /^[^\s@]+@[^\s@]+$/;

/** Shape only: whether it reaches anybody, the link that was handed over shows. */
export const email = text(EMAIL_LENGTH_MAX).refine(
  (written) => EMAIL_SHAPE.test(written),
  'This is not an e-mail address.',
);

const displayName = text(DISPLAY_NAME_LENGTH_MAX).meta({ description: 'The name that others see.' });
const password = exactText(PASSWORD_LENGTH_MAX).meta({
  description: 'At least 15 characters, taken exactly as they are; no rules of composition.',
});
const role = z.enum(ROLES);
const linkToken = z.string().min(1).max(200).meta({ description: 'Last part of the link.' });
const reason = text(REASON_LENGTH_MAX).meta({ description: 'Its member can read it.' });

export const signInBody = z
  .strictObject({ email: text(EMAIL_LENGTH_MAX), password: exactText(PASSWORD_LENGTH_MAX) })
  .meta({ id: 'SignIn' });

export const signedIn = z
  .object({
    token: z.string().meta({ description: 'JWT for the header "Authorization: Bearer".' }),
    expiresAt: instant.meta({ description: 'After this at the latest; sooner when it is not used.' }),
    member: ownMember,
  })
  .meta({ id: 'SignedIn' });

export const me = z
  .object({
    member: ownMember,
    signOffs: z.array(z.object({ id, competence: z.string(), validUntil: instant })),
    quota: z
      .object({
        hoursAMonth: z.number().nullable().meta({ description: 'Null: no limit.' }),
        hoursBooked: z.number().meta({ description: 'Of bookings that start in this calendar month.' }),
        hoursAhead: z.number().nullable().meta({ description: 'Null: no limit.' }),
        hoursComing: z.number().meta({ description: 'Of bookings that are not over yet.' }),
      })
      .nullable()
      .meta({ description: 'Press time; null where the shop rules know no quota.' }),
  })
  .meta({ id: 'Me' });

/** What later rooms know of a member and the member alone sees. */
export type OwnMore = Pick<z.output<typeof me>, 'signOffs' | 'quota'>;

export const renameBody = z.strictObject({ displayName }).meta({ id: 'Rename' });

export const changePasswordBody = z
  .strictObject({ current: exactText(PASSWORD_LENGTH_MAX), password })
  .meta({ id: 'PasswordChange' });

export const leaveBody = z.strictObject({ password: exactText(PASSWORD_LENGTH_MAX) }).meta({ id: 'Leaving' });

const suspension = z.object({
  suspendedAt: instant,
  suspendedBy: z.string(),
  reason: z.string().nullable(),
  endedAt: instant.nullable(),
  endedBy: z.string().nullable(),
  endReason: z.string().nullable(),
});

const memberListed = z.object({
  id,
  displayName: z.string(),
  email: z.string().nullable(),
  role,
  state: z.enum(MEMBER_STATES),
  createdAt: instant,
});

export const memberReply = memberListed
  .extend({ suspensions: z.array(suspension).meta({ description: 'The latest first.' }) })
  .meta({ id: 'Member' });

export const membersQuery = pageQuery.extend({
  state: z.enum(MEMBER_STATES).optional().meta({ description: 'Left out: all but who left.' }),
  search: text(EMAIL_LENGTH_MAX).optional().meta({ description: 'Part of a name or an address.' }),
});
export const membersReply = pageOf(memberListed.meta({ id: 'MemberListed' }));

export const roleBody = z.strictObject({ role }).meta({ id: 'RoleChange' });
export const reasonBody = z.strictObject({ reason }).meta({ id: 'WithReason' });

const handed = {
  link: z.string().meta({ description: 'The whole address; it is told this once and works once.' }),
  expiresAt: instant,
};
export const resetReply = z.object(handed).meta({ id: 'ResetHanded' });

const invitation = z.object({ id, email: z.string(), displayName: z.string(), role, expiresAt: instant });
export const invitationBody = z
  .strictObject({ email, displayName, role: role.default('member') })
  .meta({ id: 'InvitationWanted' });
export const invitedReply = invitation.extend(handed).meta({ id: 'Invited' });
export const invitationsReply = pageOf(
  invitation.extend({ handedBy: z.string(), createdAt: instant }).meta({ id: 'Invitation' }),
);
export const pageOnlyQuery = pageQuery;

export const importBody = z
  .strictObject({
    csv: z.string().meta({
      description:
        'A table with headings: `name`, `email` and, if there is one, `role`; at most 10,000 lines.',
    }),
    dryRun: z.boolean().default(false).meta({ description: 'Only tells what is in it.' }),
  })
  .meta({ id: 'MemberTable' });
export const importReply = z
  .object({
    invited: z.array(
      z.object({ line: z.int(), email: z.string(), displayName: z.string(), role, ...handed }),
    ),
    wouldInvite: z.int(),
    leftOut: z.array(z.object({ line: z.int(), code: z.string(), message: z.string() })),
  })
  .meta({ id: 'MembersImported' });

export const acceptBody = z
  .strictObject({ token: linkToken, displayName, password })
  .meta({ id: 'InvitationAccepted' });
export const acceptedReply = z.object({ id, email: z.string() }).meta({ id: 'Joined' });
export const resetBody = z.strictObject({ token: linkToken, password }).meta({ id: 'PasswordReset' });
