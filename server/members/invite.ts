import { recordAudit } from '../audit/record-audit.js';
import type { Role } from '../context.js';
import { Refusal, refuse } from '../reasons.js';
import { actorHeld, type PeopleCtx } from './acted-on.js';
import { insertInvitations } from './links.js';
import { newLink } from './one-time-link.js';
import { refusalUnless } from './permissions.js';
import { replaceInvitations } from './replace-invitations.js';
import { emailKey, memberByEmail } from './store.js';

export interface InvitationWanted {
  readonly email: string;
  readonly displayName: string;
  readonly role: Role;
}

/** An invitation with its link, which is told this once. */
export interface Invited extends InvitationWanted {
  readonly id: string;
  readonly path: string;
  readonly expiresAt: Date;
}

/** Invites somebody to become a member; a former invitation of the same address counts no more. */
export async function invite(ctx: PeopleCtx, wanted: InvitationWanted): Promise<Invited | Refusal> {
  const { now, tx } = ctx;
  const actor = await actorHeld(ctx);
  if (actor instanceof Refusal) return actor;
  const forbidden = refusalUnless(actor, 'member-invite', { role: wanted.role });
  if (forbidden !== undefined) return forbidden;
  const email = emailKey(wanted.email);
  if ((await memberByEmail(tx, email)) !== undefined) return refuse('email-taken', { field: 'email' });
  const kept = await replaceInvitations({ actor, now, tx }, [email]);
  if (kept !== undefined) return kept;
  const { path, tokenHash, expiresAt } = newLink('invitation', now);
  const given = { ...wanted, email, tokenHash, expiresAt };
  const ids = await insertInvitations(tx, [given], { by: actor.memberId, at: now });
  if (ids instanceof Refusal) return ids;
  const [id = ''] = ids;
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'member-invited',
    subjectKind: 'invitation',
    subjectId: id,
    details: { role: wanted.role },
  });
  return { id, path, expiresAt, email, displayName: wanted.displayName, role: wanted.role };
}
