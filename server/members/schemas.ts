import { z } from 'zod';
import { ROLES } from '../context.js';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { exactText, text } from '../http/text.js';

/** A member as the member sees themselves. */
const ownMember = z
  .object({ id, email: z.string().nullable(), displayName: z.string(), role: z.enum(ROLES) })
  .meta({ id: 'OwnMember' });

/** At least 64 characters have to fit (ASVS 6.2.9); far beyond that nobody types. */
export const PASSWORD_LENGTH_MAX = 256;

export const signInBody = z
  .object({ email: text(254), password: exactText(PASSWORD_LENGTH_MAX) })
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
    quota: z.object({ hoursAMonth: z.number(), hoursBooked: z.number() }).nullable(),
  })
  .meta({ id: 'Me' });
