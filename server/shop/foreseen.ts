import type { Verdict } from '../engineering/finding.js';
import type { Reason } from '../reasons.js';
import type { ShopRules } from './rules.js';

/** Rules that somebody wants, and the stretch of time for which they would hold. */
export interface RulesProposed {
  readonly rules: ShopRules;
  readonly validFrom: Date;
  /** When the next version takes over; null when none does. */
  readonly validUntil: Date | null;
}

/** A booking that stands and would no longer fit. */
export interface BookingAffected {
  readonly bookingId: string;
  readonly memberId: string;
  readonly displayName: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly reasons: readonly Reason[];
}

/** A plate that is to be run, and whose verdict would change. */
export interface PlateAffected {
  readonly plateId: string;
  readonly plateName: string;
  readonly revision: number;
  readonly polymer: string;
  readonly before: Verdict;
  /** Null where there was no time or no way to look. */
  readonly after: Verdict | null;
}

/** A report computed with the rules that are not in force yet; its body is a later room's business. */
export interface ReportForeseen {
  readonly verdict: Verdict;
  readonly json: string;
}

/** What a change of the rules does to what already stands. */
export interface Foreseen {
  /** The rules it was foreseen for. */
  readonly rules: ShopRules;
  readonly bookings: readonly BookingAffected[];
  readonly plates: readonly PlateAffected[];
  /** By plate, revision and polymer; empty when no verdict can change. */
  readonly reports: ReadonlyMap<string, ReportForeseen>;
}

/** A booking that holds some of the time that somebody wants to close. */
export interface BookingInTheWay {
  readonly bookingId: string;
  readonly displayName: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
}
