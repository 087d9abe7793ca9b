import type { Queryable } from '../database/queryable.js';
import type { Tx } from '../database/transaction.js';
import type { Place } from '../http/cursor.js';
import { memberById } from '../members/store.js';
import type { Span } from '../shop/opening-hours.js';
import type { HeldSpan } from './conditions.js';
import type { Lost } from './lost-store.js';

export type BookingStatus = 'booked' | 'needs-attention' | 'cancelled';
export type BookingKind = 'trial' | 'production';

export interface Booking extends Span {
  readonly id: string;
  readonly memberId: string;
  readonly displayName: string;
  readonly pressId: string;
  readonly plateId: string;
  readonly plateName: string;
  readonly revision: number;
  /** The plate's, by now. */
  readonly latestRevision: number;
  readonly reportId: string;
  readonly reportVerdict: string;
  /** The decision it stands on: for a trial any step, else a production clearance; null where none stood. */
  readonly clearanceId: string | null;
  readonly polymer: string;
  readonly bookingKind: BookingKind;
  readonly shots: number | null;
  /** True where sprues and rejects are to be ground up again afterwards. */
  readonly granulate: boolean;
  readonly status: BookingStatus;
  readonly createdAt: Date;
  readonly cancelledAt: Date | null;
  readonly cancelReason: string | null;
  /** Names of what it reserves, the press first; empty once cancelled. */
  readonly equipment: readonly string[];
  /** What it is missing of all that it was made with, the longest missing first. */
  readonly lost: readonly Lost[];
}

const BOOKING = `select b.id, b.member_id as "memberId", m.display_name as "displayName", b.press_id as "pressId",
  b.plate_id as "plateId", p.name as "plateName", b.revision, p.latest_revision as "latestRevision", b.report_id as "reportId",
  r.verdict as "reportVerdict", b.clearance_id as "clearanceId", b.polymer, b.booking_kind as "bookingKind", b.shots,
  b.granulate, b.starts_at as "startsAt",
  b.ends_at as "endsAt", b.status, b.created_at as "createdAt", b.cancelled_at as "cancelledAt",
  b.cancel_reason as "cancelReason",
  array(select e.name from reservation v join equipment e on e.id = v.equipment_id
    where v.booking_id = b.id and v.released_at is null order by (e.kind <> 'press'), e.name) as equipment,
  (select coalesce(jsonb_agg(jsonb_build_object('code', l.code, 'figures', l.figures, 'since', l.lost_at)
    order by l.lost_at, l.id), '[]') from booking_lost l where l.booking_id = b.id and l.regained_at is null) as lost
  from booking b
  join member m on m.id = b.member_id
  join plate p on p.id = b.plate_id
  join plate_report r on r.id = b.report_id`;

export async function bookingById(db: Queryable, bookingId: string): Promise<Booking | undefined> {
  const [booking] = await db.query<BookingRow>(`${BOOKING} where b.id = $1`, [bookingId]);
  return booking && bookingOf(booking);
}

/** As it is read: inside jsonb an instant is text. */
type BookingRow = Omit<Booking, 'lost'> & {
  readonly lost: readonly (Omit<Lost, 'since'> & { readonly since: string })[];
};

function bookingOf(row: BookingRow): Booking {
  return { ...row, lost: row.lost.map((one) => ({ ...one, since: new Date(one.since) })) };
}

/** The booking's own row, held until the transaction ends. */
export async function bookingHeld(
  tx: Tx,
  bookingId: string,
): Promise<
  | (Span & Pick<Booking, 'id' | 'memberId' | 'pressId' | 'plateId' | 'revision' | 'polymer' | 'status'>)
  | undefined
> {
  const [row] = await tx.query<Booking>(
    `select id, member_id as "memberId", press_id as "pressId", plate_id as "plateId", revision, polymer, status,
       starts_at as "startsAt", ends_at as "endsAt"
     from booking where id = $1 for no key update`,
    [bookingId],
  );
  return row;
}

/** Ids of a member's bookings that stand and are not over, held until the transaction ends. */
export async function comingHeld(tx: Tx, memberId: string, now: Date): Promise<readonly string[]> {
  const rows = await tx.query<{ id: string }>(
    `select id from booking where member_id = $1 and status <> 'cancelled' and ends_at > $2
     order by id for no key update`,
    [memberId, now],
  );
  return rows.map(({ id }) => id);
}

/** Ids of bookings that stand and are not over: of a member, of a plate, or all. */
export async function comingIds(
  db: Queryable,
  {
    memberId = null,
    plateId = null,
  }: { readonly memberId?: string | null; readonly plateId?: string | null },
  now: Date,
): Promise<readonly string[]> {
  const rows = await db.query<{ id: string }>(
    `select id from booking where status <> 'cancelled' and ends_at > $3
       and ($1::uuid is null or member_id = $1) and ($2::uuid is null or plate_id = $2) order by id`,
    [memberId, plateId, now],
  );
  return rows.map(({ id }) => id);
}

/** A booking that stands, with what it rests on. */
export interface StandingHeld extends Span {
  readonly id: string;
  readonly memberId: string;
  readonly memberSuspended: boolean;
  readonly plateId: string;
  readonly revision: number;
  readonly polymer: string;
  readonly bookingKind: BookingKind;
  readonly granulate: boolean;
  readonly status: Exclude<BookingStatus, 'cancelled'>;
  readonly reportId: string;
  readonly clearanceId: string | null;
}

/** The booking, held until the transaction ends; nothing where it is cancelled or over by now. */
export async function standingHeld(tx: Tx, bookingId: string, now: Date): Promise<StandingHeld | undefined> {
  const [held] = await tx.query<Omit<StandingHeld, 'memberSuspended'>>(
    `select id, member_id as "memberId", plate_id as "plateId", revision, polymer, booking_kind as "bookingKind",
       granulate, status, report_id as "reportId", clearance_id as "clearanceId", starts_at as "startsAt",
       ends_at as "endsAt"
     from booking where id = $1 and status <> 'cancelled' and ends_at > $2 for no key update`,
    [bookingId, now],
  );
  if (held === undefined) return undefined;
  // Read after the row is held: who suspends the member comes to hold it, too.
  const member = await memberById(tx, held.memberId);
  return { ...held, memberSuspended: member?.state !== 'active' };
}

/** Bookings that stand and touch [from, to) on a press (any press when null), by start and id. */
export async function bookingsBetween(
  db: Queryable,
  asked: { readonly from: Date; readonly to: Date; readonly pressId: string | null },
  after: Place | null,
  limit: number,
): Promise<readonly Booking[]> {
  const rows = await db.query<BookingRow>(
    `${BOOKING} where b.status <> 'cancelled' and b.ends_at > $1 and b.starts_at < $2
       and ($3::uuid is null or b.press_id = $3)
       and ($4::timestamptz is null or (b.starts_at, b.id) > ($4, $5::uuid))
     order by b.starts_at, b.id limit $6`,
    [asked.from, asked.to, asked.pressId, after?.at ?? null, after?.id ?? null, limit],
  );
  return rows.map(bookingOf);
}

/** A member's bookings, cancelled ones too, latest first. */
export async function bookingsOf(
  db: Queryable,
  memberId: string,
  after: Place | null,
  limit: number,
): Promise<readonly Booking[]> {
  const rows = await db.query<BookingRow>(
    `${BOOKING} where b.member_id = $1
       and ($2::timestamptz is null or (b.starts_at, b.id) < ($2, $3::uuid))
     order by b.starts_at desc, b.id desc limit $4`,
    [memberId, after?.at ?? null, after?.id ?? null, limit],
  );
  return rows.map(bookingOf);
}

/** What holds the press in a span, the booking `except` left out; at most a handful, in order of time. */
export async function pressHeldIn(
  db: Queryable,
  pressId: string,
  span: Span,
  { except, memberId }: { readonly except: string | null; readonly memberId: string },
): Promise<readonly HeldSpan[]> {
  return await db.query<HeldSpan>(
    `select r.purpose, r.starts_at as "startsAt", r.ends_at as "endsAt", own.id as "ownBookingId"
     from reservation r join equipment e on e.id = r.equipment_id
     left join booking own on own.id = r.booking_id and own.member_id = $5
     where e.press_id = $1 and r.released_at is null and r.ends_at > $2 and r.starts_at < $3
       and ($4::uuid is null or r.booking_id is distinct from $4)
     order by r.starts_at limit 10`,
    [pressId, span.startsAt, span.endsAt, except, memberId],
  );
}

/** Minutes of press time that a member holds: in bookings that start in a month, and in those not over yet. */
export async function minutesBooked(
  db: Queryable,
  memberId: string,
  asked: { readonly month: Span; readonly now: Date; readonly except: string | null },
): Promise<{ readonly monthMinutes: number; readonly aheadMinutes: number }> {
  const [row] = await db.query<{ monthMinutes: number; aheadMinutes: number }>(
    `select
       coalesce(sum(minutes) filter (where starts_at >= $2 and starts_at < $3), 0)::float8 as "monthMinutes",
       coalesce(sum(minutes) filter (where ends_at > $4), 0)::float8 as "aheadMinutes"
     from (
       select starts_at, ends_at, extract(epoch from ends_at - starts_at) / 60 as minutes from booking
       where member_id = $1 and status <> 'cancelled' and (ends_at > $4 or starts_at >= $2)
         and ($5::uuid is null or id <> $5)
     ) as held`,
    [memberId, asked.month.startsAt, asked.month.endsAt, asked.now, asked.except],
  );
  return row ?? { monthMinutes: 0, aheadMinutes: 0 };
}

/** A booking that stands, as far as it is asked what a change would do to it. */
export interface StandingBooking extends Span {
  readonly id: string;
  readonly memberId: string;
  readonly displayName: string;
  readonly memberSuspended: boolean;
  readonly plateId: string;
  readonly plateName: string;
  readonly plateOwnerId: string;
  readonly revision: number;
  readonly polymer: string;
  readonly bookingKind: BookingKind;
  readonly granulate: boolean;
  readonly reportId: string;
}

/**
 * Bookings that stand, start in [from, until) and are not over, soonest first.
 *
 * @param until null: all that start later
 */
export async function bookingsStanding(
  db: Queryable,
  { from, until, now }: { readonly from: Date; readonly until: Date | null; readonly now: Date },
): Promise<readonly StandingBooking[]> {
  return await db.query<StandingBooking>(
    `select b.id, b.member_id as "memberId", m.display_name as "displayName", m.state <> 'active' as "memberSuspended",
       b.plate_id as "plateId", p.name as "plateName", p.owner_id as "plateOwnerId", b.revision, b.polymer,
       b.booking_kind as "bookingKind", b.granulate, b.report_id as "reportId", b.starts_at as "startsAt",
       b.ends_at as "endsAt"
     from booking b join member m on m.id = b.member_id join plate p on p.id = b.plate_id
     where b.status <> 'cancelled' and b.starts_at >= $1 and ($2::timestamptz is null or b.starts_at < $2)
       and b.ends_at > $3
     order by b.starts_at, b.id`,
    [from, until, now],
  );
}

/** Bookings that need attention and are not over, soonest first. */
export async function bookingsInNeed(db: Queryable, now: Date): Promise<readonly Booking[]> {
  const rows = await db.query<BookingRow>(
    `${BOOKING} where b.status = 'needs-attention' and b.ends_at > $1 order by b.starts_at, b.id limit 200`,
    [now],
  );
  return rows.map(bookingOf);
}

/** Bookings that hold any equipment in a span, soonest first. */
export async function bookingsIn(
  db: Queryable,
  { startsAt, endsAt }: Span,
): Promise<readonly (Span & { readonly bookingId: string; readonly displayName: string })[]> {
  return await db.query(
    `select b.id as "bookingId", m.display_name as "displayName", min(r.starts_at) as "startsAt",
       max(r.ends_at) as "endsAt"
     from reservation r join booking b on b.id = r.booking_id join member m on m.id = b.member_id
     where r.released_at is null and r.ends_at > $1 and r.starts_at < $2
     group by b.id, m.display_name order by 3, b.id`,
    [startsAt, endsAt],
  );
}

/** A booking that is missing something. */
export async function setAttention(tx: Tx, bookingId: string): Promise<void> {
  await tx.query(`update booking set status = 'needs-attention' where id = $1`, [bookingId]);
}

/** A booking that lacks nothing, standing on this report and this clearance. */
export async function restOn(
  tx: Tx,
  bookingId: string,
  { reportId, clearanceId }: { readonly reportId: string; readonly clearanceId: string | null },
): Promise<void> {
  await tx.query(`update booking set status = 'booked', report_id = $2, clearance_id = $3 where id = $1`, [
    bookingId,
    reportId,
    clearanceId,
  ]);
}

export interface NewBooking extends Span {
  readonly memberId: string;
  readonly pressId: string;
  readonly plateId: string;
  readonly revision: number;
  readonly reportId: string;
  readonly polymer: string;
  readonly bookingKind: BookingKind;
  readonly shots: number | null;
  readonly granulate: boolean;
  /** Null where no decision stands. */
  readonly clearanceId: string | null;
  readonly createdAt: Date;
}

/**
 * Makes a booking, its hold on the press and its line in the trail, in one statement. The press's row is locked
 * first: two who insert overlapping spans at once would else wait for each other until one is shot as a deadlock.
 *
 * @throws pg.DatabaseError 23P01 `reservation_no_overlap` when somebody has any of the span
 */
export async function insertBooking(tx: Tx, given: NewBooking): Promise<string> {
  const [row] = await tx.query<{ id: string }>(
    `with held as (
       select id from equipment where press_id = $2 for no key update
     ), made as (
       insert into booking (member_id, press_id, plate_id, revision, report_id, polymer, booking_kind, shots,
         starts_at, ends_at, created_at, granulate, clearance_id)
       select $1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13 from held
       returning id
     ), reserved as (
       insert into reservation (equipment_id, starts_at, ends_at, purpose, booking_id, created_at)
       select held.id, $9, $10, 'booking', made.id, $11 from held, made
     ), told as (
       insert into audit_entry (at, actor_id, action, subject_kind, subject_id, details)
       select $11, $1, 'booking-made', 'booking', made.id::text,
         jsonb_build_object('plateId', $3::uuid, 'revision', $4::int, 'polymer', $6::text) from made
     )
     select id from made`,
    [
      given.memberId,
      given.pressId,
      given.plateId,
      given.revision,
      given.reportId,
      given.polymer,
      given.bookingKind,
      given.shots,
      given.startsAt,
      given.endsAt,
      given.createdAt,
      given.granulate,
      given.clearanceId,
    ],
  );
  if (row === undefined) throw new Error('The press is not among the equipment.');
  return row.id;
}

/**
 * Moves a booking and its hold on the press to another span, standing on the revision, report and clearance given, with
 * its line in the trail.
 *
 * @throws pg.DatabaseError 23P01 `reservation_no_overlap` when somebody has any of the span
 */
export async function moveBooking(
  tx: Tx,
  bookingId: string,
  to: Span & {
    readonly revision: number;
    readonly reportId: string;
    readonly clearanceId: string | null;
    readonly movedBy: string;
    readonly movedAt: Date;
  },
): Promise<void> {
  await tx.query(
    `with moved as (
       update booking set starts_at = $2, ends_at = $3, report_id = $4, revision = $7, clearance_id = $8,
         status = 'booked' where id = $1
       returning id, press_id
     ), held as (
       select e.id from equipment e join moved on e.press_id = moved.press_id for no key update of e
     ), reserved as (
       update reservation r set starts_at = $2, ends_at = $3 from held
       where r.booking_id = $1 and r.equipment_id = held.id and r.released_at is null
     )
     insert into audit_entry (at, actor_id, action, subject_kind, subject_id, details)
     select $6, $5, 'booking-moved', 'booking', moved.id::text,
       jsonb_build_object('startsAt', $2::timestamptz, 'endsAt', $3::timestamptz) from moved`,
    [bookingId, to.startsAt, to.endsAt, to.reportId, to.movedBy, to.movedAt, to.revision, to.clearanceId],
  );
}

/** Cancels a booking, gives back all that it reserved, and tells the trail. */
export async function cancelBooking(
  tx: Tx,
  bookingId: string,
  given: { readonly by: string; readonly at: Date; readonly reason: string | null },
): Promise<void> {
  await tx.query(
    `with cancelled as (
       update booking set status = 'cancelled', cancelled_at = $3, cancelled_by = $2, cancel_reason = $4
       where id = $1 returning id
     ), released as (
       update reservation set released_at = $3 where booking_id = $1 and released_at is null
     )
     insert into audit_entry (at, actor_id, action, subject_kind, subject_id)
     select $3, $2, 'booking-cancelled', 'booking', id::text from cancelled`,
    [bookingId, given.by, given.at, given.reason],
  );
}

/** A reservation as the press week shows it, with what its booking says to everybody. */
export interface WeekHold extends Span {
  readonly kind: 'press' | 'oven-tray' | 'granulator';
  readonly equipment: string;
  readonly purpose: HeldSpan['purpose'];
  readonly note: string | null;
  readonly bookingId: string | null;
  readonly memberId: string | null;
  readonly displayName: string | null;
  readonly polymer: string | null;
  readonly plateName: string | null;
}

/** Kinds of equipment that serve the press of the house. */
export async function equipmentKinds(db: Queryable): Promise<readonly WeekHold['kind'][]> {
  const rows = await db.query<{ kind: WeekHold['kind'] }>(
    `select distinct kind from equipment
     where press_id is null or press_id = (select id from press order by created_at, id limit 1) order by kind`,
  );
  return rows.map(({ kind }) => kind);
}

/** All that holds the press of the house, or equipment that serves it, at any time in [from, to). */
export async function weekHolds(db: Queryable, from: Date, to: Date): Promise<readonly WeekHold[]> {
  return await db.query<WeekHold>(
    `select e.kind, e.name as equipment, r.purpose, r.note, r.starts_at as "startsAt", r.ends_at as "endsAt",
       b.id as "bookingId", b.member_id as "memberId", m.display_name as "displayName", b.polymer,
       p.name as "plateName"
     from equipment e
     join reservation r on r.equipment_id = e.id and r.released_at is null and r.ends_at > $1 and r.starts_at < $2
     left join booking b on b.id = r.booking_id
     left join member m on m.id = b.member_id
     left join plate p on p.id = b.plate_id
     where e.press_id is null or e.press_id = (select id from press order by created_at, id limit 1)
     order by r.starts_at, e.kind, r.id`,
    [from, to],
  );
}

/** Forgets why bookings of a member were cancelled: words about a person who left. */
export async function dropCancelReasons(tx: Tx, memberId: string): Promise<void> {
  await tx.query(
    'update booking set cancel_reason = null where member_id = $1 and cancel_reason is not null',
    [memberId],
  );
}

/** What each member holds of the press from an instant on, one row for every booking that starts or is not over then. */
export async function bookingsFrom(
  db: Queryable,
  from: Date,
): Promise<readonly (Span & { readonly memberId: string; readonly displayName: string })[]> {
  return db.query(
    `select b.member_id as "memberId", m.display_name as "displayName", b.starts_at as "startsAt", b.ends_at as "endsAt"
     from booking b join member m on m.id = b.member_id
     where b.status <> 'cancelled' and b.ends_at > $1 order by m.display_name, b.member_id, b.starts_at`,
    [from],
  );
}

/** How often the press was booked with a plate, what was cancelled left out, and how many of these are not over. */
export async function bookingCountOf(
  db: Queryable,
  plateId: string,
  now: Date,
): Promise<{ readonly bookings: number; readonly coming: number }> {
  const [row] = await db.query<{ bookings: number; coming: number }>(
    `select count(*)::integer as bookings, (count(*) filter (where ends_at > $2))::integer as coming
     from booking where plate_id = $1 and status <> 'cancelled'`,
    [plateId, now],
  );
  return row ?? { bookings: 0, coming: 0 };
}
