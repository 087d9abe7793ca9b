import type { Role } from '../context.js';
import { pgFaultOf } from '../database/pg-fault.js';
import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import type { Place } from '../http/cursor.js';
import { type Refusal, refuse } from '../reasons.js';
import { hashOfToken } from './one-time-link.js';

/** Whom an open invitation is for. */
export interface Invitation {
  readonly id: string;
  readonly email: string;
  readonly displayName: string;
  readonly role: Role;
  /** Name of who handed it over. */
  readonly handedBy: string;
  readonly createdAt: Date;
  readonly expiresAt: Date;
}

/** The member that an open link for a new password is for. */
export interface Reset {
  readonly id: string;
  readonly memberId: string;
}

const INVITATION = `select l.id, l.email, l.display_name as "displayName", l.role,
  h.display_name as "handedBy", l.created_at as "createdAt", l.expires_at as "expiresAt"
  from one_time_link l join member h on h.id = l.handed_by
  where l.purpose = 'invitation' and l.used_at is null and l.withdrawn_at is null`;

/** The invitation that a token opens now. */
export async function openInvitation(
  db: Queryable,
  token: string,
  now: Date,
): Promise<Invitation | undefined> {
  const [row] = await db.query<Invitation>(`${INVITATION} and l.token_hash = $1 and l.expires_at > $2`, [
    hashOfToken(token),
    now,
  ]);
  return row;
}

/** As `openInvitation`, held: of two who use it at once the second finds it spent. */
export async function openInvitationHeld(tx: Tx, token: string, now: Date): Promise<Invitation | undefined> {
  const [row] = await tx.query<Invitation>(
    `${INVITATION} and l.token_hash = $1 and l.expires_at > $2 for no key update of l`,
    [hashOfToken(token), now],
  );
  return row;
}

/** An invitation that is still open, or has run out unused. */
export async function invitationById(db: Queryable, id: string): Promise<Invitation | undefined> {
  const [row] = await db.query<Invitation>(`${INVITATION} and l.id = $1`, [id]);
  return row;
}

/** What waits for an address and has not run out; a newer invitation would take its place. */
export async function invitationWaiting(
  db: Queryable,
  email: string,
  now: Date,
): Promise<Invitation | undefined> {
  const [row] = await db.query<Invitation>(`${INVITATION} and l.email = $1 and l.expires_at > $2`, [
    email,
    now,
  ]);
  return row;
}

/** Invitations that nobody has come by yet, newest first. */
export async function invitationsAfter(
  db: Queryable,
  after: Place | null,
  limit: number,
): Promise<readonly Invitation[]> {
  return db.query<Invitation>(
    `${INVITATION} and ($1::timestamptz is null or (l.created_at, l.id) < ($1, $2::uuid))
     order by l.created_at desc, l.id desc limit $3`,
    [after?.at ?? null, after?.id ?? null, limit],
  );
}

export interface NewInvitation {
  readonly tokenHash: string;
  readonly email: string;
  readonly displayName: string;
  readonly role: Role;
  readonly expiresAt: Date;
}

/** An invitation that a newer one to the same address takes the place of. */
export interface Replaced {
  readonly id: string;
  readonly role: Role;
  readonly expiresAt: Date;
}

/** Withdraws what waits for any of the addresses, run out or not. */
export async function withdrawInvitationsTo(
  tx: Tx,
  emails: readonly string[],
  at: Date,
): Promise<readonly Replaced[]> {
  return tx.query<Replaced>(
    `update one_time_link set withdrawn_at = $2, email = null, display_name = null
     where purpose = 'invitation' and email = any($1::text[]) returning id, role, expires_at as "expiresAt"`,
    [emails, at],
  );
}

/**
 * Hands out invitations to addresses for which none waits any more. Gives their ids in the same order, or a refusal
 * where another invited one of them at the same moment.
 */
export async function insertInvitations(
  tx: Tx,
  invitations: readonly NewInvitation[],
  handed: { readonly by: string; readonly at: Date },
): Promise<readonly string[] | Refusal> {
  const column = <Name extends keyof NewInvitation>(name: Name) => invitations.map((given) => given[name]);
  const inserting = tx.query<{ id: string }>(
    `insert into one_time_link (purpose, token_hash, email, display_name, role, expires_at, handed_by, created_at)
     select 'invitation', t.token_hash, t.email, t.display_name, t.role, t.expires_at, $6, $7
     from unnest($1::text[], $2::text[], $3::text[], $4::text[], $5::timestamptz[])
       with ordinality as t (token_hash, email, display_name, role, expires_at, n)
     order by t.n returning id`,
    [
      column('tokenHash'),
      column('email'),
      column('displayName'),
      column('role'),
      column('expiresAt'),
      handed.by,
      handed.at,
    ],
  );
  try {
    return (await inserting).map(({ id }) => id);
  } catch (error) {
    if (pgFaultOf(error)?.constraint !== 'one_time_link_one_invitation') throw error;
    return refuse('invited-meanwhile', { field: 'email' });
  }
}

/** Marks an invitation as used by who came of it, and forgets whom it was for. */
export async function spendInvitation(tx: Tx, id: string, memberId: string, at: Date): Promise<void> {
  await tx.query(
    `update one_time_link set used_at = $3, member_id = $2, email = null, display_name = null where id = $1`,
    [id, memberId, at],
  );
}

/** Withdraws an open invitation; false when there is none any more. */
export async function withdrawInvitationById(tx: Tx, id: string, at: Date): Promise<boolean> {
  const withdrawn = await tx.query(
    `update one_time_link set withdrawn_at = $2, email = null, display_name = null
     where id = $1 and purpose = 'invitation' and used_at is null and withdrawn_at is null returning id`,
    [id, at],
  );
  return withdrawn.length > 0;
}

/** Hands out a link for a new password; an open one for the same member is withdrawn by it. */
export async function insertReset(
  tx: Tx,
  given: { readonly memberId: string; readonly tokenHash: string; readonly expiresAt: Date },
  handed: { readonly by: string; readonly at: Date },
): Promise<void> {
  await withdrawResets(tx, given.memberId, handed.at);
  await tx.query(
    `insert into one_time_link (purpose, token_hash, member_id, expires_at, handed_by, created_at)
     values ('reset', $1, $2, $3, $4, $5)`,
    [given.tokenHash, given.memberId, given.expiresAt, handed.by, handed.at],
  );
}

/** The link for a new password that a token opens now. */
export async function openReset(db: Queryable, token: string, now: Date): Promise<Reset | undefined> {
  const [row] = await db.query<Reset>(
    `select id, member_id as "memberId" from one_time_link
     where purpose = 'reset' and token_hash = $1 and used_at is null and withdrawn_at is null and expires_at > $2`,
    [hashOfToken(token), now],
  );
  return row;
}

/** Uses up a link for a new password; false when somebody was there first. */
export async function spendReset(tx: Tx, id: string, at: Date): Promise<boolean> {
  const spent = await tx.query(
    `update one_time_link set used_at = $2
     where id = $1 and used_at is null and withdrawn_at is null and expires_at > $2 returning id`,
    [id, at],
  );
  return spent.length > 0;
}

/** Withdraws the open links to a member's new password. */
export async function withdrawResets(tx: Tx, memberId: string, at: Date): Promise<void> {
  await tx.query(
    `update one_time_link set withdrawn_at = $2
     where purpose = 'reset' and member_id = $1 and used_at is null and withdrawn_at is null`,
    [memberId, at],
  );
}

/** Withdraws every open link that a member handed over: what they may no longer do is not done by what they did. */
export async function withdrawHandedBy(tx: Tx, memberId: string, at: Date): Promise<void> {
  await tx.query(
    `update one_time_link set withdrawn_at = $2, email = null, display_name = null
     where handed_by = $1 and used_at is null and withdrawn_at is null`,
    [memberId, at],
  );
}
