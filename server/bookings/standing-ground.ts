import type { Queryable } from '../database/queryable.js';
import { missingCompetences } from '../inductions/standing.js';
import { may } from '../members/permissions.js';
import { type CheckGround, checkGround, reportKey } from '../plates/check-ground.js';
import { standingClearance, worseThanAccepted } from '../plates/clearance/standing.js';
import { type Plate, type ReportKey, type ReportStanding, standingOf } from '../plates/store.js';
import { inspectionDue } from '../press/inspections/store.js';
import { pressOutagesIn } from '../press/outages/store.js';
import { Refusal } from '../reasons.js';
import type { Span } from '../shop/opening-hours.js';
import type { StandingGround } from './conditions.js';
import { competencesNeeded } from './sign-offs-needed.js';
import type { BookingKind } from './store.js';

/** A booking, wanted or made, as far as it is asked what it rests on. */
export interface Resting extends Span {
  readonly memberId: string;
  readonly memberSuspended: boolean;
  readonly plate: Plate;
  readonly revision: number;
  readonly polymer: string;
  readonly bookingKind: BookingKind;
  readonly granulate: boolean;
}

/** What it is judged by, and what it rests on where that is enough. */
export interface RestingGround extends StandingGround {
  readonly pressId: string;
  /** Of the report that is asked for, and the instant whose rules it is made under. */
  readonly reportKey: ReportKey;
  readonly rulesAt: Date;
  /** Null where the report was never made. */
  readonly reportId: string | null;
  /** Null where no decision stands. */
  readonly clearanceId: string | null;
}

/** As `restingGround`, on given ground with a given report, as when a change is foreseen. */
export async function restingOn(
  db: Queryable,
  booking: Resting,
  now: Date,
  against: CheckGround,
  report: (Pick<ReportStanding, 'notClear'> & { readonly id?: string }) | undefined,
): Promise<RestingGround> {
  const { memberId, plate, revision, polymer, bookingKind } = booking;
  const key = reportKey(against, plate.id, revision, polymer);
  const standing = await standingClearance(db, key);
  const named = standing.accepted.find((one) => one.polymer === polymer);
  const worse = worseThanAccepted(standing, { polymer, findings: report?.notClear ?? [] });
  // A sign-off has to stand now and until the booking is over.
  const through = booking.endsAt > now ? booking.endsAt : now;
  const pressId = against.press.id;
  return {
    rules: against.rules,
    span: { startsAt: booking.startsAt, endsAt: booking.endsAt },
    bookingKind,
    polymer,
    memberSuspended: booking.memberSuspended,
    mayRun: may({ memberId, role: 'member', stewards: false }, 'plate-run', plate),
    plateRetired: plate.retiredAt !== null,
    revision: { asked: revision, latest: plate.latestRevision },
    signOffsMissing: await missingCompetences(db, memberId, competencesNeeded(booking), through),
    stops:
      report === undefined ? null : checksOf(report.notClear.filter(({ verdict }) => verdict === 'stop')),
    cleared: { reached: standing.reached, polymers: standing.polymers, worse },
    outages: await pressOutagesIn(db, pressId, booking),
    inspectionOverdue: (await inspectionDue(db, pressId, through)).overdue,
    pressId,
    reportKey: key,
    rulesAt: rulesInstant(booking, now),
    reportId: report?.id ?? null,
    clearanceId: bookingKind === 'trial' ? standing.clearanceId : (named?.clearanceId ?? null),
  };
}

/** A booking is under the rules that hold when it starts; one that runs already, under today's. */
export function rulesInstant({ startsAt }: Span, now: Date): Date {
  return startsAt > now ? startsAt : now;
}

/**
 * Reads what a booking rests on: the rules that hold when it starts, the member's sign-offs through its end, the
 * report and the clearance of its revision on the mounted bolster, as this transaction sees them. Who holds none of
 * them learns of a change by its listener.
 *
 * @returns a refusal where no bolster is mounted
 */
export async function restingGround(
  db: Queryable,
  booking: Resting,
  now: Date,
): Promise<RestingGround | Refusal> {
  const against = await checkGround(db, rulesInstant(booking, now), null);
  if (against instanceof Refusal) return against;
  const { plate, revision, polymer } = booking;
  const report = await standingOf(db, reportKey(against, plate.id, revision, polymer));
  return restingOn(db, booking, now, against, report);
}

function checksOf(findings: readonly { readonly check: string }[]): readonly string[] {
  return findings.map(({ check }) => check);
}
