import type { Queryable } from '../database/queryable.js';

/** One line of the trail, with people by the names they have now. */
export interface TrailEntry {
  /** Counts up; the trail is in this order. */
  readonly id: number;
  readonly at: Date;
  /** Null when the service itself did it. */
  readonly actorId: string | null;
  readonly actor: string | null;
  /** One of `AUDIT_ACTIONS`, or of an older release. */
  readonly action: string;
  readonly subjectKind: string;
  readonly subjectId: string;
  readonly details: TrailDetails;
  /**
   * Display name of whom it was done to: the subject, whom the details name, or whom an invitation is for. Looked up,
   * so that who left, or was never to come, is named nowhere.
   */
  readonly about: string | null;
}

export interface TrailDetails {
  readonly [name: string]: string | number | boolean | null;
}

/** Which part of the trail is asked for, and how much of it may be seen. */
export interface TrailAsked {
  /** Null: everything may be seen. Else what this member did, and these actions whoever did them. */
  readonly seen: { readonly ownerId: string; readonly actions: readonly string[] } | null;
  readonly actorId: string | null;
  readonly subject: { readonly kind: string; readonly id: string } | null;
  /** Only entries before this one; null from the latest on. */
  readonly before: number | null;
  readonly limit: number;
}

const UUID = '^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$';

/** Entries of the trail, the latest first. */
export async function trailOf(db: Queryable, asked: TrailAsked): Promise<readonly TrailEntry[]> {
  const { seen, actorId, subject, before, limit } = asked;
  return await db.query<TrailEntry>(
    `select e.id, e.at, e.actor_id as "actorId", a.display_name as actor, e.action,
       e.subject_kind as "subjectKind", e.subject_id as "subjectId", e.details,
       coalesce(p.display_name, l.display_name) as about
     from audit_entry e
     left join member a on a.id = e.actor_id
     left join one_time_link l on l.id = (case when e.subject_kind = 'invitation' and e.subject_id ~ '${UUID}'
       then e.subject_id::uuid end)
     cross join lateral (select case when e.subject_kind = 'member' then e.subject_id
       when e.subject_kind = 'invitation' then l.member_id::text else e.details ->> 'memberId' end as id) t
     left join member p on p.id = (case when t.id ~ '${UUID}' then t.id::uuid end)
     where ($1::uuid is null or e.actor_id = $1 or e.action = any($2::text[]))
       and ($3::uuid is null or e.actor_id = $3)
       and ($4::text is null or (e.subject_kind = $4 and e.subject_id = $5))
       and ($6::bigint is null or e.id < $6)
     order by e.id desc limit $7`,
    [
      seen?.ownerId ?? null,
      seen?.actions ?? [],
      actorId,
      subject?.kind ?? null,
      subject?.id ?? null,
      before,
      limit,
    ],
  );
}
