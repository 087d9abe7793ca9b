import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { type Listener, type SignOffEnded, tell } from '../listeners.js';
import { refusalUnless } from '../members/permissions.js';
import { notify } from '../notices/notify.js';
import { Refusal, refuse } from '../reasons.js';
import { memberBesideSteward } from './beside-steward.js';
import { endSignOff, signOffById } from './sign-off-store.js';

export interface RevokeWanted {
  readonly signOffId: string;
  /** In words that the member will read. */
  readonly reason: string;
}

/**
 * Takes a sign-off back, at once and once. What rested on it is told in the same transaction; who books at this
 * moment waits, and is then refused, or is booked first and then told.
 *
 * @param ended who must know that a sign-off stands no longer
 */
export async function revoke(
  ctx: Ctx,
  ended: readonly Listener<SignOffEnded>[],
  { signOffId, reason }: RevokeWanted,
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const seen = await signOffById(tx, signOffId);
  if (seen === undefined) return refuse('not-found', { figures: { what: 'sign-off' } });
  const { memberId, competence } = seen;
  const subject = { ownerId: memberId };
  const forbidden = refusalUnless(actor, 'sign-off-revoke', subject, {
    by: 'sign-off-see',
    what: 'sign-off',
  });
  if (forbidden !== undefined) return forbidden;
  const member = await memberBesideSteward(ctx, memberId);
  if (member instanceof Refusal) return member;
  const held = await signOffById(tx, signOffId);
  if (held === undefined || held.endKind !== null || held.validUntil <= now) return refuse('signoff-ended');
  await endSignOff(tx, signOffId, { kind: 'revoked', by: actor.memberId, reason, at: now });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'sign-off-revoked',
    subjectKind: 'sign-off',
    subjectId: signOffId,
    details: { memberId, competence, title: held.title },
  });
  await notify(tx, {
    memberIds: [memberId],
    kind: 'sign-off-revoked',
    figures: { competence: held.title, reason },
    href: `/inductions/${competence}`,
    at: now,
  });
  await tell(ended, tx, { memberId, competence, at: now, actorId: actor.memberId });
  return signOffId;
}
