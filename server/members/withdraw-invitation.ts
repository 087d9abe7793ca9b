import { recordAudit } from '../audit/record-audit.js';
import { Refusal, refuse } from '../reasons.js';
import { actorHeld, type PeopleCtx } from './acted-on.js';
import { invitationById, withdrawInvitationById } from './links.js';
import { mayAtAll, refusalUnless } from './permissions.js';

/** Withdraws an invitation that nobody has come by yet: who may invite for a role may also not. */
export async function withdrawInvitation(
  ctx: PeopleCtx,
  { id }: { readonly id: string },
): Promise<string | Refusal> {
  const { now, tx } = ctx;
  const actor = await actorHeld(ctx);
  if (actor instanceof Refusal) return actor;
  const notThere = refuse('not-found', { figures: { what: 'open invitation' } });
  const invitation = await invitationById(tx, id);
  if (invitation === undefined || !mayAtAll(actor, 'member-invite')) return notThere;
  const forbidden = refusalUnless(actor, 'member-invite', { role: invitation.role });
  if (forbidden !== undefined) return forbidden;
  if (!(await withdrawInvitationById(tx, id, now))) return notThere;
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'invitation-withdrawn',
    subjectKind: 'invitation',
    subjectId: id,
  });
  return id;
}
