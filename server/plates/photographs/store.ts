import type { Queryable } from '../../database/queryable.js';
import type { Tx } from '../../database/transaction.js';
import type { DevelopedPhotograph } from './develop-photograph.js';

/** What a photograph shows: a plate as one of its revisions is cut, or a bolster. */
export type PhotographAbout =
  | { readonly plateId: string; readonly revision: number }
  | { readonly bolsterId: string };

/** A photograph without its picture. */
export interface Photograph {
  readonly id: string;
  readonly plateId: string | null;
  readonly revision: number | null;
  readonly bolsterId: string | null;
  readonly caption: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly keptBy: string;
  readonly keptByName: string;
  readonly keptAt: Date;
}

const PHOTOGRAPH = `ph.id, ph.plate_id as "plateId", ph.revision, ph.bolster_id as "bolsterId", ph.caption,
  ph.width_px as "widthPx", ph.height_px as "heightPx", ph.kept_by as "keptBy", ph.kept_at as "keptAt",
  (select display_name from member where member.id = ph.kept_by) as "keptByName"`;

export async function insertPhotograph(
  tx: Tx,
  about: PhotographAbout,
  given: DevelopedPhotograph & { readonly caption: string; readonly keptBy: string; readonly keptAt: Date },
): Promise<string> {
  const { plateId = null, revision = null, bolsterId = null } = { ...NOTHING, ...about };
  const [row] = await tx.query<{ id: string }>(
    `insert into photograph (plate_id, revision, bolster_id, caption, whole, thumb, width_px, height_px, kept_by, kept_at)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) returning id`,
    [
      plateId,
      revision,
      bolsterId,
      given.caption,
      given.whole,
      given.thumb,
      given.widthPx,
      given.heightPx,
      given.keptBy,
      given.keptAt,
    ],
  );
  if (row === undefined) throw new Error('An inserted photograph did not come back.');
  return row.id;
}

const NOTHING: { readonly plateId?: string; readonly revision?: number; readonly bolsterId?: string } = {};

/** A photograph that was not removed. */
export async function photographById(db: Queryable, photographId: string): Promise<Photograph | undefined> {
  const [row] = await db.query<Photograph>(
    `select ${PHOTOGRAPH} from photograph ph where ph.id = $1 and ph.removed_at is null`,
    [photographId],
  );
  return row;
}

/** The photographs of a plate, of all its revisions, oldest first. */
export async function photographsOfPlate(db: Queryable, plateId: string): Promise<readonly Photograph[]> {
  return await db.query<Photograph>(
    `select ${PHOTOGRAPH} from photograph ph
     where ph.plate_id = $1 and ph.removed_at is null order by ph.kept_at, ph.id`,
    [plateId],
  );
}

export async function photographCount(tx: Tx, about: PhotographAbout): Promise<number> {
  const { plateId = null, bolsterId = null } = { ...NOTHING, ...about };
  const [row] = await tx.query<{ count: number }>(
    `select count(*)::integer as count from photograph
     where removed_at is null and (plate_id = $1 or bolster_id = $2)`,
    [plateId, bolsterId],
  );
  return row?.count ?? 0;
}

/** The picture, a JPEG. */
export async function pictureOf(
  db: Queryable,
  photographId: string,
  size: 'thumb' | 'whole',
): Promise<Buffer | undefined> {
  const column = size === 'thumb' ? 'thumb' : 'whole';
  const [row] = await db.query<{ picture: Buffer }>(
    `select ${column} as picture from photograph where id = $1 and removed_at is null`,
    [photographId],
  );
  return row?.picture;
}

/** Takes the picture and its caption away; false where that was done already. */
export async function blankPhotograph(
  tx: Tx,
  photographId: string,
  by: { readonly removedBy: string; readonly removedAt: Date },
): Promise<boolean> {
  const rows = await tx.query(
    `update photograph set whole = null, thumb = null, caption = '', removed_at = $2, removed_by = $3
     where id = $1 and removed_at is null returning id`,
    [photographId, by.removedAt, by.removedBy],
  );
  return rows.length > 0;
}
