import type { Actor } from '../context.js';
import type { House } from '../http/house.js';
import { countOne, forgetCount } from '../http/rate-limit.js';
import { type Refusal, refuse } from '../reasons.js';
import { isPasswordOf } from './password-hash.js';
import { FAILURE_WINDOW_MINUTES } from './sign-in.js';
import { type Member, memberById } from './store.js';

/**
 * The member behind an actor, once they have given the password they have now. Tries are counted as those of
 * signing in are, per member: an open session is no way to guess the password.
 */
export async function confirmPassword(
  { database, now, settings }: House,
  actor: Actor,
  password: string,
  field: string,
): Promise<Member | Refusal> {
  const bucket = `password ${actor.memberId}`;
  if (settings.rateLimits) {
    const limit = { bucket, limit: settings.signInFailures, minutes: FAILURE_WINDOW_MINUTES };
    const waitSeconds = await countOne(database, limit, now());
    if (waitSeconds !== undefined) {
      return refuse('too-many-requests', { figures: { retryAfterSeconds: waitSeconds } });
    }
  }
  const member = await memberById(database, actor.memberId);
  if (member === undefined) return refuse('session-ended');
  if (!(await isPasswordOf(member.passwordHash, password))) return refuse('password-wrong', { field });
  await forgetCount(database, bucket);
  return member;
}
