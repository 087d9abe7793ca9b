import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';

/** One version of an induction, the latest unless it was asked for by number. */
export interface InductionVersion {
  /** What it is signed off for, such as `press-operation`. */
  readonly competence: string;
  readonly version: number;
  readonly title: string;
  readonly refreshMonths: number;
  /** Markdown; see `readContents`. */
  readonly contents: string;
  readonly writtenBy: string | null;
  readonly createdAt: Date;
}

const VERSION = `v.competence, v.version, v.title, v.refresh_months as "refreshMonths", v.contents,
  v.written_by as "writtenBy", v.created_at as "createdAt"`;
const LATEST = `select ${VERSION} from competence c cross join lateral
  (select * from induction_version where competence = c.name order by version desc limit 1) v`;

/** In the order of the work; what an admin added comes after, as it came. */
const IN_ORDER = `case c.name when 'press-operation' then 1 when 'plate-change' then 2 when 'drying-oven' then 3
  when 'granulator' then 4 when 'stewarding' then 5 else 6 end, c.created_at, c.name`;

/** Every induction in its latest version. */
export async function inductions(db: Queryable): Promise<readonly InductionVersion[]> {
  return db.query<InductionVersion>(`${LATEST} order by ${IN_ORDER}`);
}

/** An induction in its latest version. */
export async function inductionOf(db: Queryable, competence: string): Promise<InductionVersion | undefined> {
  const [row] = await db.query<InductionVersion>(`${LATEST} where c.name = $1`, [competence]);
  return row;
}

/** An induction as it was in one version: old sign-offs stand on it. */
export async function inductionVersion(
  db: Queryable,
  competence: string,
  version: number,
): Promise<InductionVersion | undefined> {
  const [row] = await db.query<InductionVersion>(
    `select ${VERSION} from induction_version v where competence = $1 and version = $2`,
    [competence, version],
  );
  return row;
}

/** The competence, held until the transaction ends: versions count up one by one. */
export async function competenceHeld(tx: Tx, name: string): Promise<boolean> {
  return (await tx.query('select from competence where name = $1 for no key update', [name])).length > 0;
}

/** Adds a competence with its first version; false when there is one of that name. */
export async function insertCompetence(db: Queryable, given: NewVersion): Promise<boolean> {
  const added = await db.query(
    `with added as (
       insert into competence (name, created_by, created_at) values ($1, $5, $6)
       on conflict (name) do nothing returning name
     )
     insert into induction_version (competence, version, title, refresh_months, contents, written_by, created_at)
     select name, 1, $2, $3, $4, $5, $6 from added returning version`,
    [given.competence, given.title, given.refreshMonths, given.contents, given.writtenBy, given.at],
  );
  return added.length > 0;
}

export interface NewVersion
  extends Pick<InductionVersion, 'competence' | 'title' | 'refreshMonths' | 'contents' | 'writtenBy'> {
  readonly at: Date;
}

/** Adds the next version of a competence that is held. */
export async function insertVersion(db: Queryable, given: NewVersion): Promise<number> {
  const [row] = await db.query<{ version: number }>(
    `insert into induction_version (competence, version, title, refresh_months, contents, written_by, created_at)
     select $1, coalesce(max(version), 0) + 1, $2, $3, $4, $5, $6 from induction_version where competence = $1
     returning version`,
    [given.competence, given.title, given.refreshMonths, given.contents, given.writtenBy, given.at],
  );
  return row?.version ?? 0;
}

/** How far a member is with one part. */
export interface Reading {
  readonly competence: string;
  readonly version: number;
  readonly part: number;
  /** Place of the answer chosen, by the place of the question; null where none was. */
  readonly answers: readonly (number | null)[];
  readonly done: boolean;
}

/** What a member has read and answered of every induction, in any version. */
export async function readingsOf(db: Queryable, memberId: string): Promise<readonly Reading[]> {
  return db.query<Reading>(
    'select competence, version, part, answers, done from induction_reading where member_id = $1 order by part',
    [memberId],
  );
}

/** Keeps the latest answers to a part; what was done once stays done. */
export async function keepReading(tx: Tx, memberId: string, reading: Reading, at: Date): Promise<void> {
  await tx.query(
    `insert into induction_reading as r (member_id, competence, version, part, answers, done, read_at)
     values ($1, $2, $3, $4, $5, $6, $7)
     on conflict (member_id, competence, version, part) do update
       set answers = excluded.answers, done = r.done or excluded.done, read_at = excluded.read_at`,
    [
      memberId,
      reading.competence,
      reading.version,
      reading.part,
      JSON.stringify(reading.answers),
      reading.done,
      at,
    ],
  );
}

/** Somebody who has answered and waits for a steward. */
export interface WitnessRequest {
  readonly id: string;
  readonly memberId: string;
  readonly displayName: string;
  readonly competence: string;
  readonly version: number;
  readonly title: string;
  readonly note: string | null;
  readonly askedAt: Date;
  readonly closedAt: Date | null;
}

const REQUEST = `select w.id, w.member_id as "memberId", m.display_name as "displayName", w.competence, w.version,
  v.title, w.note, w.asked_at as "askedAt", w.closed_at as "closedAt"
  from witness_request w join member m on m.id = w.member_id
  join induction_version v on v.competence = w.competence and v.version = w.version`;

/** Requests that nobody has answered, the oldest first; of one member when given. */
export async function openRequests(
  db: Queryable,
  memberId: string | null = null,
): Promise<readonly WitnessRequest[]> {
  return db.query<WitnessRequest>(
    `${REQUEST} where w.closed_at is null and m.state = 'active' and ($1::uuid is null or w.member_id = $1)
     order by w.asked_at, w.id limit 200`,
    [memberId],
  );
}

export async function requestById(db: Queryable, requestId: string): Promise<WitnessRequest | undefined> {
  const [row] = await db.query<WitnessRequest>(`${REQUEST} where w.id = $1`, [requestId]);
  return row;
}

/** The open request of a member for one competence. */
export async function openRequest(
  db: Queryable,
  memberId: string,
  competence: string,
): Promise<WitnessRequest | undefined> {
  const [row] = await db.query<WitnessRequest>(
    `${REQUEST} where w.member_id = $1 and w.competence = $2 and w.closed_at is null`,
    [memberId, competence],
  );
  return row;
}

export async function insertRequest(
  tx: Tx,
  given: {
    readonly memberId: string;
    readonly competence: string;
    readonly version: number;
    readonly note: string | null;
    readonly at: Date;
  },
): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `insert into witness_request (member_id, competence, version, note, asked_at) values ($1, $2, $3, $4, $5)
     returning id`,
    [given.memberId, given.competence, given.version, given.note, given.at],
  );
  return row?.id ?? '';
}

/** Closes the open request of a member for one competence, where there is one. */
export async function closeRequest(
  tx: Tx,
  memberId: string,
  competence: string,
  outcome: 'signed-off' | 'withdrawn',
  at: Date,
): Promise<boolean> {
  const closed = await tx.query(
    `update witness_request set closed_at = $4, outcome = $3
     where member_id = $1 and competence = $2 and closed_at is null returning id`,
    [memberId, competence, outcome, at],
  );
  return closed.length > 0;
}

/** The code of a member's card. */
export async function cardOf(
  db: Queryable,
  memberId: string,
): Promise<{ readonly code: string; readonly issuedAt: Date } | undefined> {
  const [row] = await db.query<{ code: string; issuedAt: Date }>(
    'select code, issued_at as "issuedAt" from induction_card where member_id = $1',
    [memberId],
  );
  return row;
}

/** Gives a member a card, in place of the one before. */
export async function keepCard(tx: Tx, memberId: string, code: string, at: Date): Promise<void> {
  await tx.query(
    `insert into induction_card (member_id, code, issued_at) values ($1, $2, $3)
     on conflict (member_id) do update set code = excluded.code, issued_at = excluded.issued_at`,
    [memberId, code, at],
  );
}

/** Whose card a code is. */
export async function memberOfCard(db: Queryable, code: string): Promise<string | undefined> {
  const [row] = await db.query<{ memberId: string }>(
    'select member_id as "memberId" from induction_card where code = $1',
    [code],
  );
  return row?.memberId;
}

/** Closes what a member still waits for. */
export async function closeAllRequests(tx: Tx, memberId: string, at: Date): Promise<void> {
  await tx.query(
    `update witness_request set closed_at = $2, outcome = 'withdrawn' where member_id = $1 and closed_at is null`,
    [memberId, at],
  );
}

/** Forgets what a member wrote with their requests. */
export async function forgetRequestNotes(tx: Tx, memberId: string): Promise<void> {
  await tx.query('update witness_request set note = null where member_id = $1 and note is not null', [
    memberId,
  ]);
}

/** Makes a member's card worthless. */
export async function dropCard(tx: Tx, memberId: string): Promise<void> {
  await tx.query('delete from induction_card where member_id = $1', [memberId]);
}
