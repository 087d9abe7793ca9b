import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import { REMINDED_PART } from './lapses-soon.js';

/** A sign-off with how it stands now; what it was is never rewritten. */
export interface SignOff {
  readonly id: string;
  readonly memberId: string;
  readonly displayName: string;
  readonly competence: string;
  readonly title: string;
  readonly version: number;
  readonly signedBy: string;
  readonly signedByName: string;
  /** Declared by its member, without a witness. */
  readonly founding: boolean;
  /** Such a declaration of a house in which nobody stewarded any more. */
  readonly anew: boolean;
  readonly note: string | null;
  readonly witnessed: readonly string[];
  readonly signedAt: Date;
  readonly validUntil: Date;
  /** How it ended before it would have lapsed; null while it has not. */
  readonly endKind: 'revoked' | 'refreshed' | null;
  readonly endedAt: Date | null;
  readonly endedByName: string | null;
  readonly endReason: string | null;
}

const SIGN_OFF = `select s.id, s.member_id as "memberId", m.display_name as "displayName", s.competence, v.title,
  s.version, s.signed_by as "signedBy", b.display_name as "signedByName", s.founding, s.anew, s.note, s.witnessed,
  s.signed_at as "signedAt", s.valid_until as "validUntil", e.kind as "endKind", e.ended_at as "endedAt",
  x.display_name as "endedByName", e.reason as "endReason"
  from sign_off s join member m on m.id = s.member_id join member b on b.id = s.signed_by
  join induction_version v on v.competence = s.competence and v.version = s.version
  left join sign_off_end e on e.sign_off_id = s.id left join member x on x.id = e.ended_by`;

/** Everything a member was ever signed off for, the latest first. */
export async function signOffsOf(db: Queryable, memberId: string): Promise<readonly SignOff[]> {
  return db.query<SignOff>(`${SIGN_OFF} where s.member_id = $1 order by s.signed_at desc, s.id desc`, [
    memberId,
  ]);
}

export async function signOffById(db: Queryable, signOffId: string): Promise<SignOff | undefined> {
  const [row] = await db.query<SignOff>(`${SIGN_OFF} where s.id = $1`, [signOffId]);
  return row;
}

export interface NewSignOff {
  readonly memberId: string;
  readonly competence: string;
  readonly version: number;
  readonly signedBy: string;
  readonly founding: boolean;
  readonly anew: boolean;
  readonly note: string | null;
  readonly witnessed: readonly string[];
  readonly signedAt: Date;
  readonly validUntil: Date;
}

/** Adds a sign-off, with the signer's declaration that the member is eighteen or older. */
export async function insertSignOff(tx: Tx, given: NewSignOff): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `insert into sign_off (member_id, competence, version, signed_by, founding, anew, eighteen_or_older, note, witnessed,
       signed_at, valid_until)
     values ($1, $2, $3, $4, $5, $6, true, $7, $8, $9, $10) returning id`,
    [
      given.memberId,
      given.competence,
      given.version,
      given.signedBy,
      given.founding,
      given.anew,
      given.note,
      JSON.stringify(given.witnessed),
      given.signedAt,
      given.validUntil,
    ],
  );
  return row?.id ?? '';
}

/** Ends a sign-off. Whoever may meet another who ends it holds the member first. */
export async function endSignOff(
  tx: Tx,
  signOffId: string,
  given: {
    readonly kind: 'revoked' | 'refreshed';
    readonly by: string;
    readonly reason: string | null;
    readonly at: Date;
  },
): Promise<void> {
  await tx.query(
    'insert into sign_off_end (sign_off_id, kind, ended_by, reason, ended_at) values ($1, $2, $3, $4, $5)',
    [signOffId, given.kind, given.by, given.reason, given.at],
  );
}

/** Active members whose role lets them steward and whose sign-off for it stands. */
export async function standingStewards(db: Queryable, at: Date): Promise<readonly string[]> {
  const rows = await db.query<{ id: string }>(
    `select m.id from member m join sign_off s on s.member_id = m.id
     where m.state = 'active' and m.role in ('steward', 'admin') and s.competence = 'stewarding'
       and s.signed_at <= $1 and s.valid_until > $1
       and not exists (select from sign_off_end e where e.sign_off_id = s.id)`,
    [at],
  );
  return rows.map(({ id }) => id);
}

/** Names of the active members whose sign-off for stewarding stands, whatever their role. */
export async function namesSignedOffForStewarding(db: Queryable, at: Date): Promise<readonly string[]> {
  const rows = await db.query<{ name: string }>(
    `select m.display_name as name from member m join sign_off s on s.member_id = m.id
     where m.state = 'active' and s.competence = 'stewarding' and s.signed_at <= $1 and s.valid_until > $1
       and not exists (select from sign_off_end e where e.sign_off_id = s.id) order by 1`,
    [at],
  );
  return rows.map(({ name }) => name);
}

/**
 * True once this member cannot found any more: another has, or a steward was ever signed off, whatever became of
 * that.
 */
export async function foundingOver(db: Queryable, memberId: string): Promise<boolean> {
  const rows = await db.query(
    `select from sign_off where competence = 'stewarding' or (founding and member_id <> $1) limit 1`,
    [memberId],
  );
  return rows.length > 0;
}

/** Sign-offs of active members that lapse in a stretch unless they are renewed, the first to lapse first. */
export async function signOffsLapsing(
  db: Queryable,
  { after, until }: { readonly after: Date; readonly until: Date },
): Promise<readonly SignOff[]> {
  return db.query<SignOff>(
    `${SIGN_OFF} where s.valid_until > $1 and s.valid_until <= $2 and e.sign_off_id is null and m.state = 'active'
     order by s.valid_until, s.id limit 200`,
    [after, until],
  );
}

/** A sign-off about which its member is to be reminded. */
export interface Reminded {
  readonly signOffId: string;
  readonly memberId: string;
  readonly competence: string;
  readonly title: string;
  readonly validUntil: Date;
}

/**
 * Marks the sign-offs that lapse in (after, until] and of which nobody was reminded in this way yet; that one lapses
 * soon is said at the earliest in the last quarter of its interval. Two processes at once meet on the same row, and the later one gets nothing.
 */
export async function takeReminders(
  tx: Tx,
  kind: 'lapses-soon' | 'lapsed',
  { after, until }: { readonly after: Date; readonly until: Date },
  at: Date,
): Promise<readonly Reminded[]> {
  return tx.query<Reminded>(
    `with taken as (
       insert into sign_off_reminder (sign_off_id, kind, sent_at)
       select s.id, $1, $4 from sign_off s
       where s.valid_until > $2 and s.valid_until <= $3
         and ($1 <> 'lapses-soon' or s.valid_until - (s.valid_until - s.signed_at) / $5 <= $4)
         and not exists (select from sign_off_end e where e.sign_off_id = s.id)
         and not exists (select from sign_off_reminder r where r.sign_off_id = s.id and r.kind = $1)
       order by s.id
       on conflict (sign_off_id, kind) do nothing
       returning sign_off_id
     )
     select s.id as "signOffId", s.member_id as "memberId", s.competence, v.title, s.valid_until as "validUntil"
     from taken t join sign_off s on s.id = t.sign_off_id
     join induction_version v on v.competence = s.competence and v.version = s.version order by s.member_id, s.id`,
    [kind, after, until, at, REMINDED_PART],
  );
}

/** Forgets the words in the sign-offs of a member who left; the database allows it of nobody else. */
export async function forgetSignOffWords(tx: Tx, memberId: string): Promise<void> {
  await tx.query('update sign_off set note = null where member_id = $1 and note is not null', [memberId]);
  await tx.query(
    `update sign_off_end set reason = null where reason is not null
       and sign_off_id in (select id from sign_off where member_id = $1)`,
    [memberId],
  );
}
