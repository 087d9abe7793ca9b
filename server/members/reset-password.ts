import { recordAudit } from '../audit/record-audit.js';
import { type Tx, transact } from '../database/transaction.js';
import type { House } from '../http/house.js';
import { Refusal, refuse } from '../reasons.js';
import { openReset, spendReset } from './links.js';
import { newPasswordHash } from './new-password.js';
import { endSessionsOf } from './session.js';
import { memberById, memberHeld, setPasswordHash } from './store.js';

/** Sets a new password by a link that was handed over, once; every session of before ends. */
export async function resetPassword(
  house: House,
  given: { readonly token: string; readonly password: string },
): Promise<string | Refusal> {
  const { database, now } = house;
  const reset = await openReset(database, given.token, now());
  const member = reset && (await memberById(database, reset.memberId));
  if (reset === undefined || member?.state !== 'active') return refuse('link-spent');
  const hash = await newPasswordHash(house, given.password, [member.email, member.displayName]);
  if (hash instanceof Refusal) return hash;
  return transact(database, (tx) => setAnew(tx, now(), reset, hash));
}

async function setAnew(
  tx: Tx,
  now: Date,
  { id, memberId }: { readonly id: string; readonly memberId: string },
  passwordHash: string,
): Promise<string | Refusal> {
  const member = await memberHeld(tx, memberId);
  if (member?.state !== 'active' || !(await spendReset(tx, id, now))) return refuse('link-spent');
  await setPasswordHash(tx, memberId, passwordHash);
  const sessions = await endSessionsOf(tx, memberId, now);
  await recordAudit(tx, {
    at: now,
    actorId: memberId,
    action: 'password-reset',
    subjectKind: 'member',
    subjectId: memberId,
    details: { sessions },
  });
  return memberId;
}
