import { z } from 'zod';
import { ROLES } from '../context.js';
import { exactText, text } from '../http/text.js';
import { MEMBER_FORM_ERRORS } from '../words/en/members.js';
import { DISPLAY_NAME_LENGTH_MAX, email, PASSWORD_LENGTH_MAX, REASON_LENGTH_MAX } from './schemas.js';

/** A form's field that says one thing about whatever is wrong with it. */
function field<Schema extends z.ZodType>(schema: Schema, name: keyof typeof MEMBER_FORM_ERRORS) {
  return z.unknown().transform((given, context): z.output<Schema> => {
    const parsed = schema.safeParse(given);
    if (parsed.success) return parsed.data;
    context.addIssue({ code: 'custom', message: MEMBER_FORM_ERRORS[name] });
    return z.NEVER;
  });
}

const displayName = field(text(DISPLAY_NAME_LENGTH_MAX), 'displayName');
const password = field(exactText(PASSWORD_LENGTH_MAX), 'password');

export const inviteForm = z.object({
  email: field(email, 'email'),
  displayName,
  role: field(z.enum(ROLES), 'role'),
});
export const roleForm = z.object({ role: field(z.enum(ROLES), 'role') });
export const reasonForm = z.object({ reason: field(text(REASON_LENGTH_MAX), 'reason') });
export const nameForm = z.object({ displayName });
export const passwordForm = z.object({ password });
export const joinForm = z.object({ displayName, password });
export const changePasswordForm = z.object({
  current: field(exactText(PASSWORD_LENGTH_MAX), 'current'),
  password,
});
