import type { Queryable } from '../../database/queryable.js';
import type { Tx } from '../../database/transaction.js';
import type { Span } from '../../shop/opening-hours.js';

/** A time in which a piece of equipment is not to be used. */
export interface Outage extends Span {
  readonly id: string;
  readonly equipmentId: string;
  readonly equipment: string;
  /** Why, for everybody to read. */
  readonly reason: string;
  readonly madeBy: string;
  readonly createdAt: Date;
  /** When it was put back in service, before its time was over. */
  readonly endedAt: Date | null;
}

/** A piece of equipment that can be taken out of service. */
export interface EquipmentPiece {
  readonly id: string;
  readonly kind: 'press' | 'oven-tray' | 'granulator';
  readonly name: string;
}

const OUTAGE = `select o.id, o.equipment_id as "equipmentId", e.name as equipment, o.starts_at as "startsAt",
  o.ends_at as "endsAt", o.reason, m.display_name as "madeBy", o.created_at as "createdAt", o.ended_at as "endedAt"
  from outage o join equipment e on e.id = o.equipment_id join member m on m.id = o.made_by`;

/** Times out of service that stand and are not over, the soonest first. */
export async function outagesComing(db: Queryable, at: Date): Promise<readonly Outage[]> {
  return await db.query<Outage>(
    `${OUTAGE} where o.ended_at is null and o.ends_at > $1 order by o.starts_at, o.id limit 200`,
    [at],
  );
}

/**
 * Times out of service that stand and have some of a span, on a press. A booking that held its time before keeps it
 * beside them: whether it stands in one is asked here, not of its reservation.
 */
export async function pressOutagesIn(
  db: Queryable,
  pressId: string,
  { startsAt, endsAt }: Span,
): Promise<readonly Outage[]> {
  return await db.query<Outage>(
    `${OUTAGE} where e.press_id = $1 and o.ended_at is null and o.ends_at > $2 and o.starts_at < $3
     order by o.starts_at`,
    [pressId, startsAt, endsAt],
  );
}

/** As `pressOutagesIn`, of any piece of equipment. */
export async function outagesIn(
  db: Queryable,
  equipmentIds: readonly string[],
  { startsAt, endsAt }: Span,
): Promise<readonly Outage[]> {
  return await db.query<Outage>(
    `${OUTAGE} where o.equipment_id = any($1::uuid[]) and o.ended_at is null and o.ends_at > $2 and o.starts_at < $3
     order by o.starts_at`,
    [equipmentIds, startsAt, endsAt],
  );
}

export async function outageById(db: Queryable, id: string): Promise<Outage | undefined> {
  const [outage] = await db.query<Outage>(`${OUTAGE} where o.id = $1`, [id]);
  return outage;
}

/** Everything that is booked or reserved here, the press first. */
export async function equipmentPieces(db: Queryable): Promise<readonly EquipmentPiece[]> {
  return await db.query<EquipmentPiece>(
    `select id, kind, name from equipment order by kind <> 'press', name, id`,
  );
}

/** Holds one piece of equipment, so that nobody books it, closes it or puts it back meanwhile. */
export async function equipmentHeld(tx: Tx, equipmentId: string): Promise<EquipmentPiece | undefined> {
  const [piece] = await tx.query<EquipmentPiece>(
    'select id, kind, name from equipment where id = $1 for no key update',
    [equipmentId],
  );
  return piece;
}

/** The database lets it hold what nobody else has of the span. */
export async function insertOutage(
  tx: Tx,
  given: Span & {
    readonly equipmentId: string;
    readonly reason: string;
    readonly madeBy: string;
    readonly createdAt: Date;
  },
): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `insert into outage (equipment_id, starts_at, ends_at, reason, made_by, created_at)
     values ($1, $2, $3, $4, $5, $6) returning id`,
    [given.equipmentId, given.startsAt, given.endsAt, given.reason, given.madeBy, given.createdAt],
  );
  if (row === undefined) throw new Error('A time out of service came back without an id.');
  return row.id;
}

/** Ends a time out of service; the database gives back what it holds. */
export async function setOutageEnded(tx: Tx, id: string, by: string, at: Date): Promise<void> {
  await tx.query('update outage set ended_at = $3, ended_by = $2 where id = $1 and ended_at is null', [
    id,
    by,
    at,
  ]);
}
