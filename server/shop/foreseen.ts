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
  /** Who has booked it. */
  readonly displayName: string;
  readonly revision: number;
  readonly polymer: string;
  readonly before: Verdict;
  /** Null where there was no time or no way to look. */
  readonly after: Verdict | null;
}

/** What a change of the rules does to what already stands. */
export interface Foreseen {
  /** The rules it was foreseen for. */
  readonly rules: ShopRules;
  readonly bookings: readonly BookingAffected[];
  readonly plates: readonly PlateAffected[];
  /** True when the change bears on the plate check: a verdict that is missing then is not known. */
  readonly checksChange: boolean;
  /** Verdicts under the new rules, by plate, revision and polymer as `plateKey` writes them. */
  readonly verdicts: ReadonlyMap<string, Verdict>;
}

/** Under what the verdict of a plate is kept. */
export function plateKey(plate: {
  readonly plateId: string;
  readonly revision: number;
  readonly polymer: string;
}): string {
  return `${plate.plateId} ${plate.revision} ${plate.polymer}`;
}

/** A booking that holds some of the time that somebody wants to close. */
export interface BookingInTheWay {
  readonly bookingId: string;
  readonly displayName: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
}
