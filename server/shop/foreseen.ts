import type { Verdict } from '../engineering/finding.js';
import type { BolsterFacts, PressFacts } from '../engineering/press-facts.js';
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
  /** What it would lose, beside what it is missing already. */
  readonly reasons: readonly Reason[];
}

/** A check that would say worse. */
export interface CheckWorse {
  readonly check: string;
  readonly before: Verdict;
  readonly after: Verdict;
}

/** A plate that is to be run or may be, and whose verdict or a line of whose check would change. */
export interface PlateAffected {
  readonly plateId: string;
  readonly plateName: string;
  /** Who has booked it, or else whose it is. */
  readonly displayName: string;
  readonly revision: number;
  readonly polymer: string;
  readonly before: Verdict;
  /** Null where there was no time or no way to look. */
  readonly after: Verdict | null;
  readonly worse: readonly CheckWorse[];
}

/** A report computed for what is proposed; it is kept once the change is made. */
export interface ReportForeseen {
  readonly plateId: string;
  readonly revision: number;
  readonly polymer: string;
  /** The version of the rules it was computed under; null: the one that is proposed. */
  readonly shopRuleVersion: number | null;
  readonly verdict: Verdict;
  /** A `CheckReport` as JSON. */
  readonly json: string;
}

/** What reports were computed on; the facts tell whether it became just that. */
export interface GroundForeseen {
  readonly bolster: { readonly id: string; readonly version: number; readonly facts: BolsterFacts };
  readonly press: { readonly id: string; readonly version: number; readonly facts: PressFacts };
}

/** What a change of the rules, or of press and bolster, does to what already stands. */
export interface Foreseen {
  /** The rules it was foreseen for. */
  readonly rules: ShopRules;
  readonly bookings: readonly BookingAffected[];
  readonly plates: readonly PlateAffected[];
  /** True when the change bears on the plate check. */
  readonly checksChange: boolean;
  readonly reports: readonly ReportForeseen[];
  /** Null where no bolster would be in the press. */
  readonly ground: GroundForeseen | null;
  /** The version of the rules that would hold without the change: its reports count where no check changes. */
  readonly insteadOf: number;
}

/** A booking that holds some of the time that somebody wants to close. */
export interface BookingInTheWay {
  readonly bookingId: string;
  readonly displayName: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
}
