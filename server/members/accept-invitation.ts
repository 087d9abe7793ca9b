import { recordAudit } from '../audit/record-audit.js';
import { pgFaultOf } from '../database/pg-fault.js';
import { type Tx, transact } from '../database/transaction.js';
import type { House } from '../http/house.js';
import { Refusal, refuse } from '../reasons.js';
import { openInvitation, openInvitationHeld, spendInvitation } from './links.js';
import { newPasswordHash } from './new-password.js';
import { insertMember } from './store.js';

export interface InvitationAccepted {
  readonly token: string;
  readonly displayName: string;
  readonly password: string;
}

/** Makes a member of who holds an invitation, once. Gives the address they sign in with. */
export async function acceptInvitation(
  house: House,
  given: InvitationAccepted,
): Promise<{ readonly memberId: string; readonly email: string } | Refusal> {
  const { database, now } = house;
  const invitation = await openInvitation(database, given.token, now());
  if (invitation === undefined) return refuse('link-spent');
  const hash = await newPasswordHash(house, given.password, [invitation.email, given.displayName]);
  if (hash instanceof Refusal) return hash;
  return transact(database, (tx) => join(tx, now(), given, hash));
}

async function join(tx: Tx, now: Date, given: InvitationAccepted, passwordHash: string) {
  const invitation = await openInvitationHeld(tx, given.token, now);
  if (invitation === undefined) return refuse('link-spent');
  const { id, email, role } = invitation;
  const member = { email, displayName: given.displayName, role, passwordHash, createdAt: now };
  const memberId = await takenInstead(insertMember(tx, member));
  if (memberId instanceof Refusal) return memberId;
  await spendInvitation(tx, id, memberId, now);
  await recordAudit(tx, {
    at: now,
    actorId: memberId,
    action: 'member-joined',
    subjectKind: 'member',
    subjectId: memberId,
    details: { invitation: id, role },
  });
  return { memberId, email };
}

async function takenInstead(inserting: Promise<string>): Promise<string | Refusal> {
  try {
    return await inserting;
  } catch (error) {
    if (pgFaultOf(error)?.constraint === 'member_email_once') return refuse('email-taken');
    throw error;
  }
}
