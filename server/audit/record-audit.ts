import type { Tx } from '../database/transaction.js';
import type { AuditAction } from './actions.js';

export interface AuditEntry {
  readonly at: Date;
  /** Who did it; null when the service itself did. */
  readonly actorId: string | null;
  /** What was done: one of the list in `actions.ts`. */
  readonly action: AuditAction;
  readonly subjectKind: string;
  readonly subjectId: string;
  /** Facts worth keeping; `memberId` is whom it was done to, and is shown by name. Never a secret, never a person's words that may have to be forgotten. */
  readonly details?: { readonly [name: string]: string | number | boolean | null };
}

/** Adds to the trail, in the transaction of what it tells about: either both stand or neither. */
export async function recordAudit(tx: Tx, entry: AuditEntry): Promise<void> {
  await tx.query(
    `insert into audit_entry (at, actor_id, action, subject_kind, subject_id, details)
     values ($1, $2, $3, $4, $5, $6)`,
    [
      entry.at,
      entry.actorId,
      entry.action,
      entry.subjectKind,
      entry.subjectId,
      JSON.stringify(entry.details ?? {}),
    ],
  );
}
