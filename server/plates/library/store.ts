import type { Queryable } from '../../database/queryable.js';
import type { Place } from '../../http/cursor.js';
import type { PlateSketch } from '../../pictures/plate-sketch.js';
import type { Reached } from '../clearance/steps.js';
import type { KeptFacts, Plate } from '../store.js';
import { type LibraryFilter, wordsOf } from './filter.js';

/** A plate of the library in its latest revision. */
export interface LibraryPlate
  extends Pick<
    Plate,
    | 'id'
    | 'ownerId'
    | 'ownerName'
    | 'ownerLeft'
    | 'name'
    | 'sharing'
    | 'latestRevision'
    | 'createdAt'
    | 'place'
    | 'condition'
    | 'conditionNote'
    | 'retiredAt'
  > {
  readonly note: string | null;
  readonly facts: KeptFacts;
  /** On the mounted bolster; nowhere while none is. */
  readonly reached: Reached;
  /** For production on the mounted bolster. */
  readonly polymers: readonly string[];
  /** Null while its drawing was not read, or where it cannot be. */
  readonly widthMm: number | null;
  readonly heightMm: number | null;
  /** Of each part the longer side, shortest first. */
  readonly partMm: readonly number[];
  readonly sketch: PlateSketch | null;
}

/** Whose eyes the library is shown to. */
export interface LibrarySeenBy {
  readonly memberId: string;
  /** True for who sees everybody's plates. */
  readonly seesAll: boolean;
}

/** A production clearance in a resin that no later decision on the same ground took back. */
const POLYMERS_STANDING = `array(select distinct r.polymer from clearance c join clearance_report r on r.clearance_id = c.id
  where c.plate_id = p.id and c.revision = p.latest_revision and c.bolster_id = g.bolster_id
    and c.bolster_version = g.version and c.step = 'production' and c.decision = 'clear'
    and not exists (select from clearance l where l.plate_id = c.plate_id and l.revision = c.revision
      and l.bolster_id = c.bolster_id and l.bolster_version = c.bolster_version and l.place > c.place
      and not (l.step = 'production' and l.decision = 'clear'))
  order by r.polymer)`;

const LIBRARY = `select p.id, p.owner_id as "ownerId", p.name, p.sharing, p.latest_revision as "latestRevision",
    p.created_at as "createdAt", p.place, p.condition, p.condition_note as "conditionNote", p.retired_at as "retiredAt",
    m.display_name as "ownerName", m.state = 'left' as "ownerLeft", r.note,
    '{"screwGroups": [], "facingPartId": null, "packerPartIds": []}'::jsonb || r.facts as facts,
    s.width_mm as "widthMm", s.height_mm as "heightMm", coalesce(s.part_mm, '{}') as "partMm", s.sketch,
    coalesce(clearance_reached(p.id, p.latest_revision, g.bolster_id, g.version), 'none') as reached,
    ${POLYMERS_STANDING} as polymers
  from plate p
  join member m on m.id = p.owner_id
  join plate_revision r on r.plate_id = p.id and r.revision = p.latest_revision
  left join plate_sketch s on s.plate_id = p.id and s.revision = p.latest_revision
  left join (select b.id as bolster_id, max(v.version) as version from bolster b
    join press on press.id = b.press_id join bolster_version v on v.bolster_id = b.id
    where b.mounted group by b.id, press.id order by press.created_at, press.id limit 1) g on true`;

/** Plates that somebody may see and a filter lets through, newest first, from after the given place on. */
export async function libraryPlates(
  db: Queryable,
  { memberId, seesAll }: LibrarySeenBy,
  asked: LibraryFilter,
  after: Place | null,
  limit: number,
): Promise<readonly LibraryPlate[]> {
  return await db.query<LibraryPlate>(
    `select * from (${LIBRARY}
       where (p.owner_id = $1 or $2 or p.sharing <> 'nobody')
         and ($3::text is null or to_tsvector('simple', concat_ws(' ', p.name, p.condition_note, r.note,
           translate(r.file_name, '-_.', '   '))) @@ to_tsquery('simple', $3))
         and (($4::float8 is null and $5::float8 is null) or case $6 when 'plate'
           then greatest(s.width_mm, s.height_mm) between coalesce($4, 0) and coalesce($5, 'infinity')
           else exists (select from unnest(s.part_mm) as part
             where part between coalesce($4, 0) and coalesce($5, 'infinity')) end)
         and ($7::text is null or p.condition = $7)
         and case $8 when 'mine' then p.owner_id = $1 when 'run' then p.owner_id <> $1 and p.sharing = 'run'
           when 'see' then p.owner_id <> $1 and p.sharing = 'see' else true end
         and ($9::text is null or strpos(lower(p.place), lower($9)) > 0)
         and case $10 when 'no' then p.retired_at is null when 'yes' then p.retired_at is not null else true end
         and ($11::timestamptz is null or (p.created_at, p.id) < ($11, $12::uuid))) as seen
     where ($13::text is null or polymers @> array[$13])
       and ($14::text is null or (reached = 'production') = ($14 = 'yes'))
     order by "createdAt" desc, id desc limit $15`,
    [
      memberId,
      seesAll,
      asked.words === undefined ? null : searchOf(asked.words),
      asked.minMm ?? null,
      asked.maxMm ?? null,
      asked.size,
      asked.condition ?? null,
      asked.whose ?? null,
      asked.place ?? null,
      asked.retired,
      after?.at ?? null,
      after?.id ?? null,
      asked.resin ?? null,
      asked.cleared ?? null,
      limit,
    ],
  );
}

/** Those of some plates that somebody may see, in the order they were asked for. */
export async function libraryPlatesNamed(
  db: Queryable,
  { memberId, seesAll }: LibrarySeenBy,
  plateIds: readonly string[],
): Promise<readonly LibraryPlate[]> {
  return await db.query<LibraryPlate>(
    `${LIBRARY} where p.id = any($3::uuid[]) and (p.owner_id = $1 or $2 or p.sharing <> 'nobody')
     order by array_position($3::uuid[], p.id)`,
    [memberId, seesAll, plateIds],
  );
}

/** Every word of the search has to begin a word of the plate. */
function searchOf(words: string): string {
  return wordsOf(words)
    .map((word) => `${word}:*`)
    .join(' & ');
}
