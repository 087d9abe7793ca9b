import type { Reason } from '../reasons.js';
import {
  dayOf,
  daysFrom,
  isOpenThroughout,
  minutesOf,
  openSpansOf,
  type Span,
} from '../shop/opening-hours.js';
import type { RulesInForce, ShopRules } from '../shop/rules.js';
import { clockText, dayText } from '../words/en/times.js';
import { type QuotaUse, reasonsByQuota } from './quota.js';

/** A span in which the press is spoken for, as far as the transaction can see. */
export interface HeldSpan extends Span {
  readonly purpose: 'booking' | 'closure' | 'out-of-service';
  /** The booking that has it, where that is the asking member's own. */
  readonly ownBookingId?: string | null;
}

/** Everything a booking is judged by, read in its transaction. */
export interface Ground {
  readonly now: Date;
  readonly rules: RulesInForce;
  readonly span: Span;
  /** Competences needed for which no sign-off of the member stands through the booking's end. */
  readonly signOffsMissing: readonly string[];
  /** `booked`: a booking stands on this revision already, and is only moved. */
  readonly revision: { readonly asked: number; readonly latest: number; readonly booked: boolean };
  /** Checks with a stop in the stored report on the mounted bolster with the resin named. */
  readonly stops: readonly string[];
  readonly held: readonly HeldSpan[];
  /** What the member already holds, this booking left out. */
  readonly quotaUse: QuotaUse;
}

/** What the shop rules alone can be asked about. */
export interface SpanUnderRules {
  readonly span: Span;
  readonly rules: ShopRules;
}

export type ConditionName =
  | 'sign-offs'
  | 'latest-revision'
  | 'plate-check'
  | 'clearance'
  | 'resin'
  | 'time'
  | 'opening-hours'
  | 'stretch'
  | 'quota'
  | 'press-free'
  | 'barrel';

/** One thing a booking must satisfy. `ask` is null while the room that could answer does not exist yet. */
export interface Condition {
  readonly name: ConditionName;
  readonly ask: ((ground: Ground) => readonly Reason[]) | null;
}

/** In the order in which a member meets them, which is the order of the reasons in a refusal. */
export const CONDITIONS: readonly Condition[] = [
  { name: 'sign-offs', ask: signOffs },
  { name: 'latest-revision', ask: latestRevision },
  { name: 'plate-check', ask: plateCheck },
  { name: 'clearance', ask: null },
  { name: 'resin', ask: null },
  { name: 'time', ask: time },
  { name: 'opening-hours', ask: openingHours },
  { name: 'stretch', ask: stretch },
  { name: 'quota', ask: quota },
  { name: 'press-free', ask: pressFree },
  { name: 'barrel', ask: null },
];

/** Every reason against the booking at once; none when it may be made. */
export function reasonsAgainst(ground: Ground): readonly Reason[] {
  return CONDITIONS.flatMap((condition) => condition.ask?.(ground) ?? []);
}

function signOffs({ signOffsMissing }: Ground): readonly Reason[] {
  if (signOffsMissing.length === 0) return [];
  return [{ code: 'signoff-missing', figures: { competences: signOffsMissing.join(', ') } }];
}

function latestRevision({ revision }: Ground): readonly Reason[] {
  if (revision.asked === revision.latest || revision.booked) return [];
  return [{ code: 'revision-not-latest', field: 'revision', figures: { latest: revision.latest } }];
}

function plateCheck({ stops }: Ground): readonly Reason[] {
  if (stops.length === 0) return [];
  return [{ code: 'report-has-stop', field: 'plateId', figures: { checks: stops.join(', ') } }];
}

function time({ span, now, rules }: Ground): readonly Reason[] {
  const reasons: Reason[] = [];
  if (span.startsAt >= span.endsAt) reasons.push({ code: 'booking-backwards', field: 'endsAt' });
  if (span.startsAt < now) reasons.push({ code: 'booking-in-the-past', field: 'startsAt' });
  const daysAhead = daysFrom(dayOf(now, rules.timeZone), dayOf(span.startsAt, rules.timeZone));
  if (daysAhead > rules.bookableDaysAhead) {
    const figures = { maxDays: rules.bookableDaysAhead };
    reasons.push({ code: 'booking-too-far-ahead', field: 'startsAt', figures });
  }
  return reasons;
}

/** Past this a stretch is looked at no further: it is too long under any shop rules, and refused for that. */
const HOURS_LOOKED_AT_MS = 72 * 3_600_000;

function openingHours({ span, rules }: SpanUnderRules): readonly Reason[] {
  if (span.startsAt >= span.endsAt) return [];
  const endsAt = new Date(Math.min(span.endsAt.getTime(), span.startsAt.getTime() + HOURS_LOOKED_AT_MS));
  if (isOpenThroughout({ startsAt: span.startsAt, endsAt }, rules)) return [];
  const figures = { opening: openingText(span.startsAt, rules) };
  return [{ code: 'booking-outside-opening-hours', field: 'startsAt', figures }];
}

function openingText(instant: Date, rules: ShopRules): string {
  const spans = openSpansOf(dayOf(instant, rules.timeZone), rules).map(
    ({ startsAt, endsAt }) =>
      `${clockText(startsAt, rules.timeZone)} to ${clockText(endsAt, rules.timeZone)}`,
  );
  return `${dayText(instant, rules.timeZone)}: ${spans.length === 0 ? 'not at all' : spans.join(', ')}`;
}

function stretch({ span, rules }: SpanUnderRules): readonly Reason[] {
  if (span.startsAt < span.endsAt && minutesOf(span) < rules.shortestStretchMinutes) {
    const figures = { minMinutes: rules.shortestStretchMinutes };
    return [{ code: 'booking-too-short', field: 'endsAt', figures }];
  }
  if (minutesOf(span) <= rules.longestStretchMinutes) return [];
  const maxHours = Math.round((rules.longestStretchMinutes / 60) * 100) / 100;
  return [{ code: 'booking-too-long', field: 'endsAt', figures: { maxHours } }];
}

function quota({ span, quotaUse, rules }: Ground): readonly Reason[] {
  return reasonsByQuota(span, quotaUse, rules);
}

/** What speaks against a booking by the shop rules alone, whoever makes it and with whatever plate. */
export function reasonsByHours(ground: SpanUnderRules): readonly Reason[] {
  return [...openingHours(ground), ...stretch(ground)];
}

const HELD = {
  booking: 'press-taken',
  closure: 'press-closed',
  'out-of-service': 'press-out-of-service',
} as const satisfies Record<HeldSpan['purpose'], Reason['code']>;

function pressFree({ held, now, rules, span }: Ground): readonly Reason[] {
  const told = (instant: Date) =>
    `${dayText(instant, rules.timeZone)}, ${clockText(instant, rules.timeZone)}`;
  // What is over cannot be in the way of anything.
  if (span.startsAt < now) return [];
  return held.map(({ purpose, startsAt, endsAt, ownBookingId }) => ({
    code: HELD[purpose],
    field: 'startsAt',
    figures: {
      from: told(startsAt),
      until: told(endsAt),
      ...(ownBookingId != null && { ownBookingId }),
    },
  }));
}
