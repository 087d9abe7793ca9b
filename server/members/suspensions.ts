import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';

export interface Suspension {
  readonly id: string;
  readonly suspendedAt: Date;
  readonly suspendedBy: string;
  /** Null once the member has left: words about a person go with the person. */
  readonly reason: string | null;
  readonly endedAt: Date | null;
  readonly endedBy: string | null;
  readonly endReason: string | null;
}

/** A member's suspensions with the names of who did it, the latest first. */
export async function suspensionsOf(db: Queryable, memberId: string): Promise<readonly Suspension[]> {
  return db.query<Suspension>(
    `select s.id, s.suspended_at as "suspendedAt", a.display_name as "suspendedBy", s.reason,
       s.ended_at as "endedAt", b.display_name as "endedBy", s.end_reason as "endReason"
     from member_suspension s join member a on a.id = s.suspended_by left join member b on b.id = s.ended_by
     where s.member_id = $1 order by s.suspended_at desc, s.id desc limit 100`,
    [memberId],
  );
}

export async function beginSuspension(
  tx: Tx,
  memberId: string,
  given: { readonly by: string; readonly at: Date; readonly reason: string },
): Promise<void> {
  await tx.query(
    'insert into member_suspension (member_id, suspended_at, suspended_by, reason) values ($1, $2, $3, $4)',
    [memberId, given.at, given.by, given.reason],
  );
}

export async function endOpenSuspension(
  tx: Tx,
  memberId: string,
  given: { readonly by: string; readonly at: Date; readonly reason: string | null },
): Promise<void> {
  await tx.query(
    `update member_suspension set ended_at = $2, ended_by = $3, end_reason = $4
     where member_id = $1 and ended_at is null`,
    [memberId, given.at, given.by, given.reason],
  );
}
