import type { FastifyInstance } from 'fastify';
import { recordAudit } from '../audit/record-audit.js';
import { transact } from '../database/transaction.js';
import type { House } from '../http/house.js';
import { countOne, forgetCount } from '../http/rate-limit.js';
import { Refusal, refuse } from '../reasons.js';
import { hashPassword, isOutdated, isPasswordOf } from './password-hash.js';
import { type OpenedSession, openSession } from './session.js';
import { emailKey, type Member, memberByEmail, memberShared, setPasswordHash } from './store.js';
import { writeToken } from './token.js';

export const FAILURE_WINDOW_MINUTES = 15;

export interface SignedIn {
  readonly token: string;
  readonly session: OpenedSession;
  readonly member: Member;
}

/**
 * Signs a member in. Answer and time are the same for an unknown address, a wrong password and a member who is
 * suspended. Failures are counted per account and address, so that nobody can lock out somebody elsewhere; an
 * attempt is counted before the password is looked at, so that a burst gets no more tries than a slow guesser,
 * and a success takes the count back.
 */
export async function signIn(
  app: FastifyInstance,
  { settings, database, now }: House,
  given: { readonly email: string; readonly password: string; readonly address: string },
): Promise<SignedIn | Refusal> {
  const bucket = `sign-in ${emailKey(given.email).slice(0, 120)} ${given.address}`;
  if (settings.rateLimits) {
    const limit = { bucket, limit: settings.signInFailures, minutes: FAILURE_WINDOW_MINUTES };
    const waitSeconds = await countOne(database, limit, now());
    if (waitSeconds !== undefined) {
      return refuse('too-many-requests', { figures: { retryAfterSeconds: waitSeconds } });
    }
  }
  const member = await memberByEmail(database, given.email);
  const fits = await isPasswordOf(member?.passwordHash ?? null, given.password);
  if (member === undefined || !fits || member.state !== 'active') {
    app.log.warn({ address: given.address, memberId: member?.id }, 'sign-in failed');
    return refuse('sign-in-failed');
  }

  const newHash = isOutdated(member.passwordHash ?? '') ? await hashPassword(given.password) : undefined;
  const session = await transact(database, async (tx) => {
    // Whoever suspends or gives a new password comes before this or finds the session to end.
    const held = await memberShared(tx, member.id);
    if (held?.state !== 'active' || held.passwordHash !== member.passwordHash)
      return refuse('sign-in-failed');
    if (newHash !== undefined) await setPasswordHash(tx, member.id, newHash);
    await forgetCount(tx, bucket);
    const opened = await openSession(tx, member.id, now(), settings);
    await recordAudit(tx, {
      at: now(),
      actorId: member.id,
      action: 'signed-in',
      subjectKind: 'member',
      subjectId: member.id,
    });
    return opened;
  });
  if (session instanceof Refusal) return session;
  return { token: writeToken(app, member.id, session), session, member };
}
