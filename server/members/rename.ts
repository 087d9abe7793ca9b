import { recordAudit } from '../audit/record-audit.js';
import { Refusal } from '../reasons.js';
import { memberActedOn, type PeopleCtx } from './acted-on.js';
import { setDisplayName } from './store.js';

/** Changes the name that others see of oneself. The trail keeps that it changed, not the name of before. */
export async function rename(
  ctx: PeopleCtx,
  { displayName }: { readonly displayName: string },
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const member = await memberActedOn(ctx, 'account-edit', actor.memberId);
  if (member instanceof Refusal) return member;
  if (member.displayName === displayName) return member.id;
  await setDisplayName(tx, member.id, displayName);
  await recordAudit(tx, {
    at: now,
    actorId: member.id,
    action: 'name-changed',
    subjectKind: 'member',
    subjectId: member.id,
  });
  return member.id;
}
