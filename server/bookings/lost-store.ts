import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import type { Reason, ReasonCode } from '../reasons.js';

/** One thing that a booking is missing. */
export interface Lost {
  readonly code: ReasonCode;
  readonly figures: NonNullable<Reason['figures']>;
  readonly since: Date;
}

/** What a booking is missing now, the longest missing first. */
export async function lostOf(db: Queryable, bookingId: string): Promise<readonly Lost[]> {
  return await db.query<Lost>(
    `select code, figures, lost_at as since from booking_lost
     where booking_id = $1 and regained_at is null order by lost_at, id`,
    [bookingId],
  );
}

/** Writes down something more that a booking is missing. */
export async function lose(tx: Tx, bookingId: string, { code, figures }: Reason, at: Date): Promise<void> {
  await tx.query('insert into booking_lost (booking_id, code, figures, lost_at) values ($1, $2, $3, $4)', [
    bookingId,
    code,
    JSON.stringify(figures ?? {}),
    at,
  ]);
}

/** Something that was missing is there again. */
export async function regain(tx: Tx, bookingId: string, { code, figures }: Reason, at: Date): Promise<void> {
  await tx.query(
    `update booking_lost set regained_at = greatest($4, lost_at)
     where booking_id = $1 and code = $2 and figures = $3 and regained_at is null`,
    [bookingId, code, JSON.stringify(figures ?? {}), at],
  );
}

/** All of it is there again. */
export async function regainAll(tx: Tx, bookingId: string, at: Date): Promise<void> {
  await tx.query(
    'update booking_lost set regained_at = greatest($2, lost_at) where booking_id = $1 and regained_at is null',
    [bookingId, at],
  );
}

/** True where both say that the same is missing. */
export function isSameLoss(
  one: Pick<Reason, 'code' | 'figures'>,
  other: Pick<Reason, 'code' | 'figures'>,
): boolean {
  return one.code === other.code && sorted(one.figures) === sorted(other.figures);
}

/** Figures as they are compared: the database keeps no order of names. */
function sorted(figures: Reason['figures'] = {}): string {
  return JSON.stringify(Object.entries(figures).sort(([a], [b]) => (a < b ? -1 : 1)));
}
