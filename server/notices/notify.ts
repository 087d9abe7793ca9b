import type { Tx } from '../database/transaction.js';
import type { NoticeFigures, NoticeKind } from './kinds.js';

export interface NewNotice {
  /** Who is told; nobody is told twice by one call, and who has left is not told. */
  readonly memberIds: readonly string[];
  readonly kind: NoticeKind;
  /** Whom it is about, for the sentence's name; not the one who is told. */
  readonly aboutId?: string;
  readonly figures?: NoticeFigures;
  /** Where to see or do something about it: a path of ours. */
  readonly href: string;
  readonly at: Date;
}

/**
 * Tells people something, in the transaction of what it tells about. The one way to do so: it stands on their
 * page until they have read it, and what goes out by e-mail one day is read from what is kept here.
 */
export async function notify(tx: Tx, notice: NewNotice): Promise<void> {
  await tx.query(
    `insert into notice (member_id, kind, about_id, figures, href, created_at)
     select id, $2, $3, $4, $5, $6 from member where id = any($1::uuid[]) and state <> 'left'`,
    [
      notice.memberIds,
      notice.kind,
      notice.aboutId ?? null,
      JSON.stringify(notice.figures ?? {}),
      notice.href,
      notice.at,
    ],
  );
}
