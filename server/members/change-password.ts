import { recordAudit } from '../audit/record-audit.js';
import type { Actor } from '../context.js';
import { transact } from '../database/transaction.js';
import type { House } from '../http/house.js';
import { Refusal, refuse } from '../reasons.js';
import { memberActedOn } from './acted-on.js';
import { confirmPassword } from './confirm-password.js';
import { withdrawResets } from './links.js';
import { newPasswordHash } from './new-password.js';
import { endOtherSessions } from './session.js';
import { setPasswordHash } from './store.js';

/** Changes one's own password, giving the one there is; every other session ends. */
export async function changePassword(
  house: House,
  actor: Actor,
  given: { readonly current: string; readonly password: string },
): Promise<string | Refusal> {
  const known = await confirmPassword(house, actor, given.current, 'current');
  if (known instanceof Refusal) return known;
  if (given.password === given.current) {
    return refuse('password-weak', { field: 'password', figures: { fault: 'no-change' } });
  }
  const hash = await newPasswordHash(house, given.password, [known.email, known.displayName]);
  if (hash instanceof Refusal) return hash;
  return transact(house.database, async (tx) => {
    const now = house.now();
    const member = await memberActedOn(
      { actor, now, tx, stewardsAt: house.stewardsAt },
      'account-edit',
      actor.memberId,
    );
    if (member instanceof Refusal) return member;
    if (member.passwordHash !== known.passwordHash) return refuse('changed-meanwhile');
    await setPasswordHash(tx, member.id, hash);
    await withdrawResets(tx, member.id, now);
    const sessions = await endOtherSessions(tx, actor, now);
    await recordAudit(tx, {
      at: now,
      actorId: member.id,
      action: 'password-changed',
      subjectKind: 'member',
      subjectId: member.id,
      details: { sessions },
    });
    return member.id;
  });
}
