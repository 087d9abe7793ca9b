import type { Role } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import type { Place } from '../http/cursor.js';

export const MEMBER_STATES = ['active', 'suspended', 'left'] as const;
export type MemberState = (typeof MEMBER_STATES)[number];

export interface Member {
  readonly id: string;
  readonly email: string | null;
  readonly displayName: string;
  readonly role: Role;
  readonly state: MemberState;
  readonly passwordHash: string | null;
  readonly createdAt: Date;
}

const MEMBER = `select id, email, display_name as "displayName", role, state,
  password_hash as "passwordHash", created_at as "createdAt" from member`;

/** E-mail addresses are kept and compared in lower case. */
export function emailKey(email: string): string {
  return email.trim().toLowerCase();
}

export async function memberByEmail(db: Queryable, email: string): Promise<Member | undefined> {
  const [member] = await db.query<Member>(`${MEMBER} where email = $1`, [emailKey(email)]);
  return member;
}

export async function memberById(db: Queryable, memberId: string): Promise<Member | undefined> {
  const [member] = await db.query<Member>(`${MEMBER} where id = $1`, [memberId]);
  return member;
}

/**
 * The member, held until this transaction ends: who suspends, lets go or gives another role waits for it, and so
 * does whoever decides by what the member is. The first lock of every transaction that takes it.
 */
export async function memberHeld(tx: Tx, memberId: string): Promise<Member | undefined> {
  const [member] = await tx.query<Member>(`${MEMBER} where id = $1 for no key update`, [memberId]);
  return member;
}

/** Several members at once, as `memberHeld`, in the one order that lets nobody wait for each other. */
export async function membersHeld(tx: Tx, memberIds: readonly string[]): Promise<readonly Member[]> {
  return tx.query<Member>(`${MEMBER} where id = any($1::uuid[]) order by id for no key update`, [memberIds]);
}

/** The member, held so that nobody changes them before this transaction ends, together with others who look. */
export async function memberShared(tx: Tx, memberId: string): Promise<Member | undefined> {
  const [member] = await tx.query<Member>(`${MEMBER} where id = $1 for share`, [memberId]);
  return member;
}

/** Members newest first, from after the given place on; `state` null: all but who left. */
export async function membersAfter(
  db: Queryable,
  { state, search }: { readonly state: MemberState | null; readonly search: string | null },
  after: Place | null,
  limit: number,
): Promise<readonly Member[]> {
  return db.query<Member>(
    `${MEMBER} where (case when $1::text is null then state <> 'left' else state = $1 end)
       and ($2::text is null or position(lower($2) in lower(display_name)) > 0 or position(lower($2) in email) > 0)
       and ($3::timestamptz is null or (created_at, id) < ($3, $4::uuid))
     order by created_at desc, id desc limit $5`,
    [state, search, after?.at ?? null, after?.id ?? null, limit],
  );
}

/** Active members of any of the roles. */
export async function activeOfRoles(db: Queryable, roles: readonly Role[]): Promise<readonly string[]> {
  const rows = await db.query<{ id: string }>(
    `select id from member where state = 'active' and role = any($1::text[]) order by id`,
    [roles],
  );
  return rows.map(({ id }) => id);
}

/** Everybody who is active, by name: what a member may know of others. */
export async function activeNames(
  db: Queryable,
): Promise<readonly { readonly id: string; readonly displayName: string }[]> {
  return db.query<{ id: string; displayName: string }>(
    `select id, display_name as "displayName" from member where state = 'active' order by display_name, id`,
  );
}

export async function hasMembers(db: Queryable): Promise<boolean> {
  return (await db.query('select from member limit 1')).length > 0;
}

/** Those of the addresses that members have already. */
export async function emailsTaken(db: Queryable, emails: readonly string[]): Promise<ReadonlySet<string>> {
  const rows = await db.query<{ email: string }>('select email from member where email = any($1::text[])', [
    emails,
  ]);
  return new Set(rows.map(({ email }) => email));
}

export interface NewMember {
  readonly email: string;
  readonly displayName: string;
  readonly role: Role;
  readonly passwordHash: string;
  readonly createdAt: Date;
}

export async function insertMember(db: Queryable, member: NewMember): Promise<string> {
  const [row] = await db.query<{ id: string }>(
    `insert into member (email, display_name, role, password_hash, created_at)
     values ($1, $2, $3, $4, $5) returning id`,
    [emailKey(member.email), member.displayName, member.role, member.passwordHash, member.createdAt],
  );
  if (row === undefined) throw new Error('A new member came back without an id.');
  return row.id;
}

export async function setPasswordHash(db: Queryable, memberId: string, passwordHash: string): Promise<void> {
  await db.query('update member set password_hash = $2 where id = $1', [memberId, passwordHash]);
}

export async function setDisplayName(tx: Tx, memberId: string, displayName: string): Promise<void> {
  await tx.query('update member set display_name = $2 where id = $1', [memberId, displayName]);
}

/** @throws pg.DatabaseError PS006 `member_last_admin` when nobody would be left */
export async function setRole(tx: Tx, memberId: string, role: Role): Promise<void> {
  await tx.query('update member set role = $2 where id = $1', [memberId, role]);
}

/** @throws pg.DatabaseError PS006 `member_last_admin` when nobody would be left */
export async function setState(tx: Tx, memberId: string, state: 'active' | 'suspended'): Promise<void> {
  await tx.query('update member set state = $2 where id = $1', [memberId, state]);
}

/**
 * Forgets who a member was: address, name, password, the answers kept for their requests and those for others' that
 * name them, reasons of suspensions. The row stays, for what they did to point at.
 *
 * @throws pg.DatabaseError PS006 `member_last_admin` when nobody would be left
 */
export async function forgetMember(tx: Tx, memberId: string, pseudonym: string, at: Date): Promise<void> {
  await tx.query('delete from idempotency_key where actor_id = $1', [memberId]);
  await tx.query(
    `update idempotency_key k set reply = null from member m where m.id = $1 and k.reply is not null and (
       position(m.id::text in k.reply::text) > 0 or position(m.email in lower(k.reply::text)) > 0
       or position(lower(btrim(to_jsonb(m.display_name)::text, '"')) in lower(k.reply::text)) > 0)`,
    [memberId],
  );
  await tx.query(
    `delete from rate_count where starts_with(bucket, 'sign-in ' || (select email from member where id = $1) || ' ')`,
    [memberId],
  );
  await tx.query('update member_suspension set reason = null, end_reason = null where member_id = $1', [
    memberId,
  ]);
  await tx.query(
    `update member set state = 'left', left_at = $3, display_name = $2, email = null, password_hash = null
     where id = $1`,
    [memberId, pseudonym, at],
  );
}
