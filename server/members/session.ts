import { createHash, randomBytes } from 'node:crypto';
import type { Actor, Role, StewardsAt } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { type Refusal, refuse } from '../reasons.js';
import type { Settings } from '../settings.js';

const MINUTE_MS = 60_000;
const SESSION_ID_BYTES = 32;

export interface OpenedSession {
  /** Known to the client alone; the database keeps its hash. */
  readonly sid: string;
  readonly createdAt: Date;
  readonly expiresAt: Date;
}

/** Opens a session with a new random id. */
export async function openSession(
  db: Queryable,
  memberId: string,
  now: Date,
  { sessionHours }: Settings,
): Promise<OpenedSession> {
  const sid = randomBytes(SESSION_ID_BYTES).toString('base64url');
  const expiresAt = new Date(now.getTime() + sessionHours * 60 * MINUTE_MS);
  await db.query(
    `insert into session (id_hash, member_id, created_at, last_seen_at, expires_at)
     values ($1, $2, $3, $3, $4)`,
    [sessionIdHash(sid), memberId, now, expiresAt],
  );
  return { sid, createdAt: now, expiresAt };
}

interface SessionRow {
  readonly displayName: string;
  readonly role: Role;
  readonly state: string;
  readonly lastSeenAt: Date;
  readonly expiresAt: Date;
  readonly endedAt: Date | null;
}

/**
 * Who acts by a session, as the database has it now: role, sign-off and state are never the token's. A
 * session that is used is renewed, at most once a minute.
 */
export async function actorBySession(
  db: Queryable,
  { sub, sid }: { readonly sub: string; readonly sid: string },
  now: Date,
  { sessionIdleMinutes }: Settings,
  stewardsAt: StewardsAt,
): Promise<Actor | Refusal> {
  const idHash = sessionIdHash(sid);
  const [row] = await db.query<SessionRow>(
    `select m.display_name as "displayName", m.role, m.state, s.last_seen_at as "lastSeenAt",
       s.expires_at as "expiresAt", s.ended_at as "endedAt"
     from session s join member m on m.id = s.member_id where s.id_hash = $1 and s.member_id = $2`,
    [idHash, sub],
  );
  if (row === undefined || row.endedAt !== null || row.state !== 'active') return refuse('session-ended');
  const idleMs = now.getTime() - row.lastSeenAt.getTime();
  if (now >= row.expiresAt || idleMs >= sessionIdleMinutes * MINUTE_MS) return refuse('session-ended');
  if (idleMs >= MINUTE_MS) {
    await db.query(
      'update session set last_seen_at = $2 where id_hash = $1 and last_seen_at < $2 and ended_at is null',
      [idHash, now],
    );
  }
  const { displayName, role } = row;
  const stewards = role !== 'member' && (await stewardsAt(db, sub, now));
  return { memberId: sub, displayName, role, stewards, sessionIdHash: idHash };
}

/** Ends one session; ending it again changes nothing. */
export async function endSession(db: Queryable, idHash: string, now: Date): Promise<void> {
  await db.query('update session set ended_at = $2 where id_hash = $1 and ended_at is null', [idHash, now]);
}

/** Ends every session of a member but the given one. */
export async function endOtherSessions(db: Queryable, actor: Actor, now: Date): Promise<number> {
  const ended = await db.query(
    `update session set ended_at = $3 where member_id = $1 and id_hash <> $2 and ended_at is null
     and expires_at > $3 returning id_hash`,
    [actor.memberId, actor.sessionIdHash, now],
  );
  return ended.length;
}

/** Ends every session of a member. */
export async function endSessionsOf(db: Queryable, memberId: string, now: Date): Promise<number> {
  const ended = await db.query(
    'update session set ended_at = $2 where member_id = $1 and ended_at is null and expires_at > $2 returning id_hash',
    [memberId, now],
  );
  return ended.length;
}

export interface SessionSeen {
  readonly idHash: string;
  readonly createdAt: Date;
  readonly lastSeenAt: Date;
}

/** A member's sessions that can still be used, the latest used first. */
export async function sessionsOf(
  db: Queryable,
  memberId: string,
  now: Date,
  { sessionIdleMinutes }: Settings,
): Promise<readonly SessionSeen[]> {
  return db.query<SessionSeen>(
    `select id_hash as "idHash", created_at as "createdAt", last_seen_at as "lastSeenAt" from session
     where member_id = $1 and ended_at is null and expires_at > $2 and last_seen_at > $3
     order by last_seen_at desc, id_hash`,
    [memberId, now, new Date(now.getTime() - sessionIdleMinutes * MINUTE_MS)],
  );
}

function sessionIdHash(sid: string): string {
  return createHash('sha256').update(sid).digest('hex');
}
