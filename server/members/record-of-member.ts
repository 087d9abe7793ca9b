import type { AuditAction } from '../audit/actions.js';
import { type AuditEntry, recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';

/** Adds to the trail what an actor did to a member. */
export async function recordOfMember(
  { actor, now, tx }: Ctx,
  action: AuditAction,
  memberId: string,
  details: AuditEntry['details'] = {},
): Promise<void> {
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action,
    subjectKind: 'member',
    subjectId: memberId,
    details: { ...details, memberId },
  });
}
