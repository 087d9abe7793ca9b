import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import type { Place } from '../http/cursor.js';
import type { Span } from './opening-hours.js';

export interface Closure extends Span {
  readonly id: string;
  /** Why, for everybody to read. */
  readonly note: string;
  readonly madeBy: string | null;
  readonly createdAt: Date;
  readonly liftedAt: Date | null;
}

const CLOSURE = `select c.id, c.starts_at as "startsAt", c.ends_at as "endsAt", c.note, m.display_name as "madeBy",
  c.created_at as "createdAt", c.lifted_at as "liftedAt" from closure c left join member m on m.id = c.made_by`;

/** Closures that stand and are not over, the soonest first. */
export async function closuresComing(
  db: Queryable,
  at: Date,
  after: Place | null,
  limit: number,
): Promise<readonly Closure[]> {
  return await db.query<Closure>(
    `${CLOSURE} where c.lifted_at is null and c.ends_at > $1
       and ($2::timestamptz is null or (c.starts_at, c.id) > ($2, $3::uuid))
     order by c.starts_at, c.id limit $4`,
    [at, after?.at ?? null, after?.id ?? null, limit],
  );
}

export async function closureById(db: Queryable, closureId: string): Promise<Closure | undefined> {
  const [closure] = await db.query<Closure>(`${CLOSURE} where c.id = $1`, [closureId]);
  return closure;
}

/** Holds every piece of equipment, so that nothing is booked, closed or lifted meanwhile. */
export async function equipmentHeld(tx: Tx): Promise<void> {
  await tx.query('select id from equipment order by id for no key update');
}

/** Closures that stand and have some of a span. */
export async function closuresIn(tx: Tx, { startsAt, endsAt }: Span): Promise<readonly Closure[]> {
  return await tx.query<Closure>(
    `${CLOSURE} where c.lifted_at is null and c.ends_at > $1 and c.starts_at < $2 order by c.starts_at`,
    [startsAt, endsAt],
  );
}

/**
 * Closes every piece of equipment for a span. What is out of service for a part of it stays so, and the closure
 * holds the rest.
 *
 * @throws pg.DatabaseError 23P01 when a booking or another closure has any of the span
 */
export async function insertClosure(
  tx: Tx,
  given: Span & { readonly note: string; readonly madeBy: string; readonly createdAt: Date },
): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `with made as (
       insert into closure (starts_at, ends_at, note, made_by, created_at) values ($1, $2, $3, $4, $5) returning id
     ), reserved as (
       insert into reservation (equipment_id, starts_at, ends_at, purpose, closure_id, note, created_at)
       select e.id, lower(left_open), upper(left_open), 'closure', made.id, $3, $5
       from made, equipment e
       cross join lateral unnest(
         tstzmultirange(tstzrange($1, $2, '[)')) - coalesce(
           (select range_agg(tstzrange(r.starts_at, r.ends_at, '[)')) from reservation r
            where r.equipment_id = e.id and r.released_at is null and r.purpose = 'out-of-service'
              and r.ends_at > $1 and r.starts_at < $2), '{}'::tstzmultirange)) as left_open
     )
     select id from made`,
    [given.startsAt, given.endsAt, given.note, given.madeBy, given.createdAt],
  );
  if (row === undefined) throw new Error('A closure came back without an id.');
  return row.id;
}

/** Lifts a closure and gives back all that it holds; that it stood stays on record. */
export async function setLifted(tx: Tx, closureId: string, by: string, at: Date): Promise<void> {
  await tx.query(
    `with lifted as (
       update closure set lifted_at = $3, lifted_by = $2 where id = $1 and lifted_at is null returning id
     )
     update reservation set released_at = $3 from lifted
     where closure_id = lifted.id and released_at is null`,
    [closureId, by, at],
  );
}
