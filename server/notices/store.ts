import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import type { Place } from '../http/cursor.js';
import type { NoticeFigures } from './kinds.js';

export interface Notice {
  readonly id: string;
  readonly memberId: string;
  /** One of `NOTICE_KINDS`, or of an older release. */
  readonly kind: string;
  readonly figures: NoticeFigures;
  /** Display name of whom it is about, as it is now. */
  readonly about: string | null;
  readonly href: string;
  readonly createdAt: Date;
  readonly readAt: Date | null;
}

const NOTICE = `select n.id, n.member_id as "memberId", n.kind, n.figures, a.display_name as about, n.href,
  n.created_at as "createdAt", n.read_at as "readAt" from notice n left join member a on a.id = n.about_id`;

/** A member's notices, the latest first; only those still to be read when `unread`. */
export async function noticesOf(
  db: Queryable,
  memberId: string,
  {
    unread,
    after,
    limit,
  }: { readonly unread: boolean; readonly after: Place | null; readonly limit: number },
): Promise<readonly Notice[]> {
  return await db.query<Notice>(
    `${NOTICE} where n.member_id = $1 and (not $2 or n.read_at is null)
       and ($3::timestamptz is null or (n.created_at, n.id) < ($3, $4::uuid))
     order by n.created_at desc, n.id desc limit $5`,
    [memberId, unread, after?.at ?? null, after?.id ?? null, limit],
  );
}

/** How many notices a member has not read; what the head of every sheet shows. */
export async function unreadCount(db: Queryable, memberId: string): Promise<number> {
  const [row] = await db.query<{ count: number }>(
    'select count(*)::int as count from notice where member_id = $1 and read_at is null',
    [memberId],
  );
  return row?.count ?? 0;
}

export async function noticeById(db: Queryable, noticeId: string): Promise<Notice | undefined> {
  const [notice] = await db.query<Notice>(`${NOTICE} where n.id = $1`, [noticeId]);
  return notice;
}

/** Marks one as read; the first time counts. */
export async function setRead(tx: Tx, noticeId: string, at: Date): Promise<void> {
  await tx.query('update notice set read_at = $2 where id = $1 and read_at is null', [noticeId, at]);
}

/** Marks as read all that a member was told up to an instant. */
export async function setReadThrough(tx: Tx, memberId: string, through: Date, at: Date): Promise<number> {
  const read = await tx.query(
    `update notice set read_at = $3 where member_id = $1 and read_at is null and created_at <= $2
     returning id`,
    [memberId, through, at],
  );
  return read.length;
}

/** Deletes all that a member who left was told; the database allows it of nobody else while it is unread. */
export async function dropNoticesOf(tx: Tx, memberId: string): Promise<void> {
  await tx.query('delete from notice where member_id = $1', [memberId]);
}

/** Takes people's own words out of what others were told about a member who left. */
export async function dropReasonsAbout(tx: Tx, memberId: string): Promise<void> {
  await tx.query(
    `update notice set figures = figures - 'reason' where about_id = $1 and figures ? 'reason'`,
    [memberId],
  );
}
