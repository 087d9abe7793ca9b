import type { Queryable } from '../../database/queryable.js';
import type { Tx } from '../../database/transaction.js';
import type { Place } from '../../http/cursor.js';

/** Whether anybody was hurt, and how badly. */
export const HURT = ['nobody', 'first-aid', 'more'] as const;
export type Hurt = (typeof HURT)[number];

export interface NearMiss {
  readonly id: string;
  readonly reportedBy: string;
  readonly reportedByName: string;
  readonly reportedAt: Date;
  readonly happenedAt: Date;
  readonly place: string;
  readonly what: string;
  readonly hurt: Hurt;
  /** Null while nobody has answered. */
  readonly done: string | null;
  readonly answeredByName: string | null;
  readonly answeredAt: Date | null;
}

const NEAR_MISS = `select n.id, n.reported_by as "reportedBy", m.display_name as "reportedByName",
  n.reported_at as "reportedAt", n.happened_at as "happenedAt", n.place, n.what, n.hurt,
  a.done, s.display_name as "answeredByName", a.answered_at as "answeredAt"
  from near_miss n join member m on m.id = n.reported_by
  left join near_miss_answer a on a.near_miss_id = n.id
  left join member s on s.id = a.answered_by`;

export async function nearMissById(db: Queryable, nearMissId: string): Promise<NearMiss | undefined> {
  const [row] = await db.query<NearMiss>(`${NEAR_MISS} where n.id = $1`, [nearMissId]);
  return row;
}

/** Near misses that a member told of, or all for null, latest first. */
export async function nearMissesOf(
  db: Queryable,
  memberId: string | null,
  after: Place | null,
  limit: number,
): Promise<readonly NearMiss[]> {
  return await db.query<NearMiss>(
    `${NEAR_MISS} where ($1::uuid is null or n.reported_by = $1)
       and ($2::timestamptz is null or (n.reported_at, n.id) < ($2, $3::uuid))
     order by n.reported_at desc, n.id desc limit $4`,
    [memberId, after?.at ?? null, after?.id ?? null, limit],
  );
}

/** Those that nobody has answered, oldest first. */
export async function nearMissesOpen(db: Queryable): Promise<readonly NearMiss[]> {
  return await db.query<NearMiss>(
    `${NEAR_MISS} where a.near_miss_id is null order by n.reported_at, n.id limit 100`,
  );
}

export interface NewNearMiss {
  readonly reportedBy: string;
  readonly reportedAt: Date;
  readonly happenedAt: Date;
  readonly place: string;
  readonly what: string;
  readonly hurt: Hurt;
}

export async function insertNearMiss(tx: Tx, made: NewNearMiss): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `insert into near_miss (reported_by, reported_at, happened_at, place, what, hurt)
     values ($1, $2, $3, $4, $5, $6) returning id`,
    [made.reportedBy, made.reportedAt, made.happenedAt, made.place, made.what, made.hurt],
  );
  if (row === undefined) throw new Error('An inserted near miss did not come back.');
  return row.id;
}

/** Answers a near miss that nobody has answered; false where somebody has. */
export async function insertAnswer(
  tx: Tx,
  nearMissId: string,
  answer: { readonly by: string; readonly at: Date; readonly done: string },
): Promise<boolean> {
  const rows = await tx.query(
    `insert into near_miss_answer (near_miss_id, answered_by, answered_at, done) values ($1, $2, $3, $4)
     on conflict (near_miss_id) do nothing returning near_miss_id`,
    [nearMissId, answer.by, answer.at, answer.done],
  );
  return rows.length > 0;
}
