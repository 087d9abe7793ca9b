import type { Queryable } from '../../database/queryable.js';
import type { PlateSketch } from '../../pictures/plate-sketch.js';
import type { DrawingSketched } from '../checking-house.js';

/** Raise it when a sketch is drawn or measured in another way: every drawing is then read once more. */
const DRAWN_BY = 1;

export interface NotSketched {
  readonly plateId: string;
  readonly revision: number;
  readonly dxf: Buffer;
}

/** Latest revisions that nobody has read for the library yet, the newest first; or one plate's alone. */
export async function notSketched(
  db: Queryable,
  plateId: string | null,
  limit: number,
): Promise<readonly NotSketched[]> {
  return await db.query<NotSketched>(
    `select r.plate_id as "plateId", r.revision, r.dxf from plate p
     join plate_revision r on r.plate_id = p.id and r.revision = p.latest_revision
     where ($2::uuid is null or p.id = $2) and not exists (select from plate_sketch s
       where s.plate_id = r.plate_id and s.revision = r.revision and s.drawn_by = $1)
     order by p.created_at desc, p.id desc limit $3`,
    [DRAWN_BY, plateId, limit],
  );
}

/** Keeps what was read off a drawing; null where it cannot be read. */
export async function keepSketch(
  db: Queryable,
  { plateId, revision }: Pick<NotSketched, 'plateId' | 'revision'>,
  read: DrawingSketched | null,
): Promise<void> {
  await db.query(
    `insert into plate_sketch (plate_id, revision, drawn_by, width_mm, height_mm, part_mm, sketch)
     values ($1, $2, $3, $4, $5, $6, $7)
     on conflict (plate_id, revision) do update set drawn_by = excluded.drawn_by, width_mm = excluded.width_mm,
       height_mm = excluded.height_mm, part_mm = excluded.part_mm, sketch = excluded.sketch`,
    [
      plateId,
      revision,
      DRAWN_BY,
      read?.widthMm ?? null,
      read?.heightMm ?? null,
      read?.partMm ?? [],
      read === null ? null : JSON.stringify(read.sketch),
    ],
  );
}

/** How a revision is drawn small; undefined where it was not read or cannot be. */
export async function sketchAt(
  db: Queryable,
  plateId: string,
  revision: number,
): Promise<PlateSketch | undefined> {
  const [row] = await db.query<{ sketch: PlateSketch | null }>(
    'select sketch from plate_sketch where plate_id = $1 and revision = $2',
    [plateId, revision],
  );
  return row?.sketch ?? undefined;
}
