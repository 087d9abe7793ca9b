import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import type { TrialPlan } from '../engineering/run/trial-steps.js';
import type { Place } from '../http/cursor.js';
import type { Outcome } from './outcomes.js';
import type { PreUseLine } from './pre-use.js';
import type { Observation } from './trial/observations.js';
import type { Went } from './trial/where.js';

export interface Run {
  readonly id: string;
  readonly bookingId: string;
  /** Whose booking it is. */
  readonly memberId: string;
  readonly displayName: string;
  readonly pressId: string;
  readonly bolsterId: string;
  readonly bolsterVersion: number;
  readonly bolsterName: string;
  readonly plateId: string;
  readonly plateName: string;
  readonly revision: number;
  readonly polymer: string;
  readonly kind: 'trial' | 'production';
  readonly openedBy: string;
  readonly openedByName: string;
  readonly openedAt: Date;
  readonly preUse: readonly PreUseLine[];
  readonly withinCallId: string | null;
  /** A member's, or as it was written. */
  readonly withinCallName: string;
  readonly attendedBy: string | null;
  readonly attendedByName: string | null;
  readonly trialPlan: TrialPlan | null;
  readonly closedAt: Date | null;
  readonly closedByName: string | null;
  readonly outcome: Outcome | null;
  readonly outcomeNote: string | null;
  /** When its booking ends. */
  readonly endsAt: Date;
}

const RUN = `select r.id, r.booking_id as "bookingId", b.member_id as "memberId", m.display_name as "displayName",
  r.press_id as "pressId", r.bolster_id as "bolsterId", r.bolster_version as "bolsterVersion",
  s.name as "bolsterName", r.plate_id as "plateId", p.name as "plateName", r.revision, b.polymer, r.kind,
  r.opened_by as "openedBy", o.display_name as "openedByName", r.opened_at as "openedAt", r.pre_use as "preUse",
  r.within_call_id as "withinCallId", coalesce(w.display_name, r.within_call_name) as "withinCallName",
  r.attended_by as "attendedBy", a.display_name as "attendedByName", r.trial_plan as "trialPlan",
  r.closed_at as "closedAt", c.display_name as "closedByName", r.outcome, r.outcome_note as "outcomeNote",
  b.ends_at as "endsAt"
  from run r
  join booking b on b.id = r.booking_id
  join member m on m.id = b.member_id
  join plate p on p.id = r.plate_id
  join bolster s on s.id = r.bolster_id
  join member o on o.id = r.opened_by
  left join member w on w.id = r.within_call_id
  left join member a on a.id = r.attended_by
  left join member c on c.id = r.closed_by`;

export async function runById(db: Queryable, runId: string): Promise<Run | undefined> {
  const [run] = await db.query<Run>(`${RUN} where r.id = $1`, [runId]);
  return run;
}

/** The run's own row, held until the transaction ends: who keeps a step of it, and who closes it, come one after the other. */
export async function runHeld(tx: Tx, runId: string): Promise<void> {
  await tx.query('select from run where id = $1 for no key update', [runId]);
}

/** Every run of a booking, first to last. */
export async function runsOfBooking(db: Queryable, bookingId: string): Promise<readonly Run[]> {
  return await db.query<Run>(`${RUN} where r.booking_id = $1 order by r.opened_at, r.id`, [bookingId]);
}

/** Runs of the bookings of a member, or of everybody for null, latest first. */
export async function runsOf(
  db: Queryable,
  memberId: string | null,
  after: Place | null,
  limit: number,
): Promise<readonly Run[]> {
  return await db.query<Run>(
    `${RUN} where ($1::uuid is null or b.member_id = $1)
       and ($2::timestamptz is null or (r.opened_at, r.id) < ($2, $3::uuid))
     order by r.opened_at desc, r.id desc limit $4`,
    [memberId, after?.at ?? null, after?.id ?? null, limit],
  );
}

/** The run that is open on a press. */
export async function openRunOf(db: Queryable, pressId: string): Promise<Run | undefined> {
  const [run] = await db.query<Run>(`${RUN} where r.press_id = $1 and r.closed_at is null`, [pressId]);
  return run;
}

/** Runs that are open, on whatever press, the longest open first. */
export async function openRuns(db: Queryable): Promise<readonly Run[]> {
  return await db.query<Run>(`${RUN} where r.closed_at is null order by r.opened_at, r.id`);
}

/** Open runs that a member opened, or of their bookings; held until the transaction ends. */
export async function openRunsHeld(tx: Tx, memberId: string): Promise<readonly Pick<Run, 'id' | 'kind'>[]> {
  return await tx.query<Pick<Run, 'id' | 'kind'>>(
    `select r.id, r.kind from run r join booking b on b.id = r.booking_id
     where r.closed_at is null and (r.opened_by = $1 or b.member_id = $1)
     order by r.id for no key update of r`,
    [memberId],
  );
}

/** A trial that was led and closed. */
export interface ClosedTrial {
  readonly id: string;
  readonly plateId: string;
  readonly revision: number;
  readonly bolsterId: string;
  readonly bolsterVersion: number;
  readonly polymer: string;
  readonly outcome: Outcome;
  readonly openedAt: Date;
  readonly closedAt: Date;
}

/** The trials of a plate that are over, latest first. */
export async function closedTrials(db: Queryable, plateId: string): Promise<readonly ClosedTrial[]> {
  return await db.query<ClosedTrial>(
    `select r.id, r.plate_id as "plateId", r.revision, r.bolster_id as "bolsterId",
       r.bolster_version as "bolsterVersion", b.polymer, r.outcome, r.opened_at as "openedAt", r.closed_at as "closedAt"
     from run r join booking b on b.id = r.booking_id
     where r.plate_id = $1 and r.kind = 'trial' and r.closed_at is not null
     order by r.closed_at desc, r.id`,
    [plateId],
  );
}

/** Trials that are booked and not over, of which no run has been opened, soonest first. */
export async function trialsToCome(
  db: Queryable,
  now: Date,
): Promise<
  readonly {
    readonly bookingId: string;
    readonly memberId: string;
    readonly displayName: string;
    readonly plateName: string;
    readonly polymer: string;
    readonly startsAt: Date;
    readonly endsAt: Date;
  }[]
> {
  return await db.query(
    `select b.id as "bookingId", b.member_id as "memberId", m.display_name as "displayName",
       p.name as "plateName", b.polymer, b.starts_at as "startsAt", b.ends_at as "endsAt"
     from booking b join member m on m.id = b.member_id join plate p on p.id = b.plate_id
     where b.booking_kind = 'trial' and b.status = 'booked' and b.ends_at > $1
       and not exists (select from run where booking_id = b.id)
     order by b.starts_at, b.id limit 50`,
    [now],
  );
}

export interface NewRun {
  readonly bookingId: string;
  readonly pressId: string;
  readonly bolsterId: string;
  readonly bolsterVersion: number;
  readonly plateId: string;
  readonly revision: number;
  readonly kind: Run['kind'];
  readonly openedBy: string;
  readonly openedAt: Date;
  readonly preUse: readonly PreUseLine[];
  readonly withinCallId: string | null;
  readonly withinCallName: string | null;
  readonly attendedBy: string | null;
  readonly trialPlan: TrialPlan | null;
}

/**
 * @throws pg.DatabaseError 23505 `run_open_once`; PS002 `run_of_booked`, `run_within_booking`; PS003
 *   `run_fits_booking`; PS005 `run_by_signed_off`, `run_attended_by_steward`
 */
export async function insertRun(tx: Tx, made: NewRun): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `insert into run (booking_id, press_id, bolster_id, bolster_version, plate_id, revision, kind, opened_by,
       opened_at, pre_use, within_call_id, within_call_name, attended_by, trial_plan)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14) returning id`,
    [
      made.bookingId,
      made.pressId,
      made.bolsterId,
      made.bolsterVersion,
      made.plateId,
      made.revision,
      made.kind,
      made.openedBy,
      made.openedAt,
      made.preUse,
      made.withinCallId,
      made.withinCallName,
      made.attendedBy,
      made.trialPlan === null ? null : JSON.stringify(made.trialPlan),
    ],
  );
  if (row === undefined) throw new Error('An inserted run did not come back.');
  return row.id;
}

/** Writes a member's name of now where a run says the name they had before; whole fields, however it was spelled. */
export async function renameWithinCall(tx: Tx, memberId: string, nameBefore: string): Promise<void> {
  await tx.query(
    `update run set within_call_name = (select display_name from member where id = $1)
     where lower(btrim(within_call_name)) = lower(btrim($2))`,
    [memberId, nameBefore],
  );
}

export interface Closing {
  readonly by: string;
  readonly at: Date;
  readonly outcome: Outcome;
  readonly note: string | null;
}

export async function setClosed(tx: Tx, runId: string, { by, at, outcome, note }: Closing): Promise<void> {
  await tx.query(
    'update run set closed_by = $2, closed_at = $3, outcome = $4, outcome_note = $5 where id = $1',
    [runId, by, at, outcome, note],
  );
}

/** What was set at a step, in the machine's units; what was not set is left out. */
export interface SetAs {
  readonly screwMm?: number;
  readonly clampKn?: number;
  readonly holdMpa?: number;
  readonly holdGaugeBar?: number;
  readonly holdS?: number;
}

export interface KeptStep {
  readonly id: string;
  /** Name of the plan's step. */
  readonly step: string;
  readonly setAs: SetAs;
  readonly seen: readonly Observation[];
  readonly note: string | null;
  readonly went: Went;
  readonly photographId: string | null;
  readonly keptByName: string;
  readonly keptAt: Date;
}

/** What was kept of a trial, in the order in which it was done. */
export async function stepsOf(db: Queryable, runId: string): Promise<readonly KeptStep[]> {
  return await db.query<KeptStep>(
    `select t.id, t.step, t.set_as as "setAs", t.seen, t.note, t.went, t.photograph_id as "photographId",
       m.display_name as "keptByName", t.kept_at as "keptAt"
     from trial_step t join member m on m.id = t.kept_by where t.run_id = $1 order by t.place`,
    [runId],
  );
}

export interface NewStep {
  readonly runId: string;
  readonly step: string;
  readonly setAs: SetAs;
  readonly seen: readonly Observation[];
  readonly note: string | null;
  readonly went: Went;
  readonly photographId: string | null;
  readonly keptBy: string;
  readonly keptAt: Date;
}

/** @throws pg.DatabaseError PS002 `trial_step_of_open_trial`; PS003 `trial_step_own_photograph` */
export async function insertStep(tx: Tx, made: NewStep): Promise<void> {
  await tx.query(
    `insert into trial_step (run_id, step, set_as, seen, note, went, photograph_id, kept_by, kept_at)
     values ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
    [
      made.runId,
      made.step,
      JSON.stringify(made.setAs),
      made.seen,
      made.note,
      made.went,
      made.photographId,
      made.keptBy,
      made.keptAt,
    ],
  );
}

/** Every polymer that was ever run on a press. */
export async function polymersRunOn(db: Queryable, pressId: string): Promise<readonly string[]> {
  const rows = await db.query<{ polymer: string }>(
    `select distinct b.polymer from run r join booking b on b.id = r.booking_id where r.press_id = $1`,
    [pressId],
  );
  return rows.map(({ polymer }) => polymer);
}

/** The runs of a plate, first to last. */
export async function runsOfPlate(db: Queryable, plateId: string): Promise<readonly Run[]> {
  return await db.query<Run>(`${RUN} where r.plate_id = $1 order by r.opened_at, r.id`, [plateId]);
}
