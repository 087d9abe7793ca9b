import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import type { Refusal } from '../reasons.js';
import { withdrawInvitationsTo } from './links.js';
import { refusalUnless } from './permissions.js';

/**
 * Withdraws the invitations that wait for these addresses, to make room for new ones. Who could not withdraw one
 * that is open cannot replace it either; the refusal takes all of them back.
 */
export async function replaceInvitations(
  { actor, now, tx }: Ctx,
  emails: readonly string[],
): Promise<Refusal | undefined> {
  for (const { id, role, expiresAt } of await withdrawInvitationsTo(tx, emails, now)) {
    const forbidden = expiresAt > now ? refusalUnless(actor, 'member-invite', { role }) : undefined;
    if (forbidden !== undefined) return forbidden;
    await recordAudit(tx, {
      at: now,
      actorId: actor.memberId,
      action: 'invitation-withdrawn',
      subjectKind: 'invitation',
      subjectId: id,
    });
  }
  return undefined;
}
