import type { z } from 'zod';
import type { Actor, Ctx } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { Refusal, refuse } from '../reasons.js';
import { subjectOf } from './acted-on.js';
import { may } from './permissions.js';
import type { memberReply } from './schemas.js';
import { type Member, memberById } from './store.js';
import { suspensionsOf } from './suspensions.js';

export type MemberView = z.output<typeof memberReply>;

/** A member in a list. */
export function listedView({ id, displayName, email, role, state, createdAt }: Member) {
  return { id, displayName, email, role, state, createdAt };
}

/** A member with their suspensions, for who may see them; for everybody else they are not there. */
export async function memberView(
  db: Queryable,
  actor: Actor,
  memberId: string,
): Promise<MemberView | Refusal> {
  const member = await memberById(db, memberId);
  if (member === undefined || !may(actor, 'member-see', subjectOf(member))) {
    return refuse('not-found', { figures: { what: 'member' } });
  }
  return { ...listedView(member), suspensions: [...(await suspensionsOf(db, memberId))] };
}

/** What a command that changed a member answers with: the member as they are now. */
export async function memberAfter(
  { actor, tx }: Ctx,
  outcome: string | Refusal,
): Promise<MemberView | Refusal> {
  return outcome instanceof Refusal ? outcome : memberView(tx, actor, outcome);
}
