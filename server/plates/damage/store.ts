import type { Queryable } from '../../database/queryable.js';
import type { Tx } from '../../database/transaction.js';
import type { Place } from '../../http/cursor.js';

export const HALVES = ['moving', 'fixed'] as const;
export type Half = (typeof HALVES)[number];

/** What is damaged: the face of one half of a bolster, or a plate. */
export type DamageOf =
  | { readonly bolsterId: string; readonly half: Half }
  | { readonly plateId: string; readonly revision: number };

export interface Damage {
  readonly id: string;
  readonly bolsterId: string | null;
  readonly bolsterName: string | null;
  /** True of damage to the bolster that is in the press. */
  readonly mounted: boolean;
  readonly half: Half | null;
  readonly plateId: string | null;
  readonly plateName: string | null;
  readonly revision: number | null;
  /** From the sprue axis, of a plate from its feed as drawn; mm, to the right and up, seen on the moving half. */
  readonly xMm: number;
  readonly yMm: number;
  readonly what: string;
  /** Null where there is none, or none any more. */
  readonly photographId: string | null;
  readonly reportedBy: string;
  readonly reportedByName: string;
  readonly reportedAt: Date;
  /** Null while it is open. */
  readonly done: string | null;
  readonly closedByName: string | null;
  readonly closedAt: Date | null;
}

const DAMAGE = `select d.id, d.bolster_id as "bolsterId", b.name as "bolsterName", coalesce(b.mounted, false) as mounted,
  d.half, d.plate_id as "plateId", p.name as "plateName", d.revision, d.x_mm as "xMm", d.y_mm as "yMm", d.what,
  (select id from photograph where id = d.photograph_id and removed_at is null) as "photographId",
  d.reported_by as "reportedBy", m.display_name as "reportedByName", d.reported_at as "reportedAt",
  c.done, s.display_name as "closedByName", c.closed_at as "closedAt"
  from damage d
  join member m on m.id = d.reported_by
  left join bolster b on b.id = d.bolster_id
  left join plate p on p.id = d.plate_id
  left join damage_closing c on c.damage_id = d.id
  left join member s on s.id = c.closed_by`;

export async function damageById(db: Queryable, damageId: string): Promise<Damage | undefined> {
  const [row] = await db.query<Damage>(`${DAMAGE} where d.id = $1`, [damageId]);
  return row;
}

/** Damage to a bolster or to a plate, latest first. */
export async function damageOf(
  db: Queryable,
  of: { readonly bolsterId: string } | { readonly plateId: string },
  after: Place | null,
  limit: number,
): Promise<readonly Damage[]> {
  const [column, id] = 'bolsterId' in of ? ['bolster_id', of.bolsterId] : ['plate_id', of.plateId];
  return await db.query<Damage>(
    `${DAMAGE} where d.${column} = $1 and ($2::timestamptz is null or (d.reported_at, d.id) < ($2, $3::uuid))
     order by d.reported_at desc, d.id desc limit $4`,
    [id, after?.at ?? null, after?.id ?? null, limit],
  );
}

/** More would hide a picture. */
const OPEN_MAX = 100;

/** Damage to a bolster that nobody has closed, oldest first; of all bolsters and plates for null. */
export async function openDamage(db: Queryable, bolsterId: string | null): Promise<readonly Damage[]> {
  return await db.query<Damage>(
    `${DAMAGE} where c.damage_id is null and ($1::uuid is null or d.bolster_id = $1)
     order by d.reported_at, d.id limit ${OPEN_MAX}`,
    [bolsterId],
  );
}

/** @throws pg.DatabaseError PS003 `damage_own_photograph` */
export async function insertDamage(
  tx: Tx,
  of: DamageOf,
  made: Pick<Damage, 'xMm' | 'yMm' | 'what' | 'photographId' | 'reportedBy' | 'reportedAt'>,
): Promise<string> {
  const { bolsterId = null, half = null, plateId = null, revision = null } = { ...NOTHING, ...of };
  const [row] = await tx.query<{ id: string }>(
    `insert into damage (bolster_id, half, plate_id, revision, x_mm, y_mm, what, photograph_id, reported_by, reported_at)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) returning id`,
    [
      bolsterId,
      half,
      plateId,
      revision,
      made.xMm,
      made.yMm,
      made.what,
      made.photographId,
      made.reportedBy,
      made.reportedAt,
    ],
  );
  if (row === undefined) throw new Error('An inserted damage did not come back.');
  return row.id;
}

const NOTHING: {
  readonly bolsterId?: string;
  readonly half?: Half;
  readonly plateId?: string;
  readonly revision?: number;
} = {};

/** Closes damage that is open; false where somebody has closed it. */
export async function insertClosing(
  tx: Tx,
  damageId: string,
  closing: { readonly by: string; readonly at: Date; readonly done: string },
): Promise<boolean> {
  const rows = await tx.query(
    `insert into damage_closing (damage_id, closed_by, closed_at, done) values ($1, $2, $3, $4)
     on conflict (damage_id) do nothing returning damage_id`,
    [damageId, closing.by, closing.at, closing.done],
  );
  return rows.length > 0;
}
