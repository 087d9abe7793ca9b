import type { Role } from '../context.js';
import type { Queryable } from '../database/queryable.js';

export interface Member {
  readonly id: string;
  readonly email: string | null;
  readonly displayName: string;
  readonly role: Role;
  readonly state: 'active' | 'suspended' | 'left';
  readonly passwordHash: string | null;
}

const MEMBER = `select id, email, display_name as "displayName", role, state,
  password_hash as "passwordHash" from member`;

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

export async function hasMembers(db: Queryable): Promise<boolean> {
  return (await db.query('select from member limit 1')).length > 0;
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
