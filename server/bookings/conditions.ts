import type { Worse } from '../plates/clearance/standing.js';
import type { Reached } from '../plates/clearance/steps.js';
import type { Reason, ReasonCode } from '../reasons.js';
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
import { isOnStep } from './on-step.js';
import { type QuotaUse, reasonsByQuota } from './quota.js';

/** A span in which the press is spoken for, as far as the transaction can see. */
export interface HeldSpan extends Span {
  readonly purpose: 'booking' | 'closure' | 'out-of-service';
  /** The booking that has it, where that is the asking member's own. */
  readonly ownBookingId?: string | null;
}

/** What a steward cleared, as far as one booking asks. */
export interface Cleared {
  readonly reached: Reached;
  /** For production; empty before it. */
  readonly polymers: readonly string[];
  /** Checks that say worse today than what was accepted of the booking's polymer. */
  readonly worse: readonly Worse[];
}

/** What has to go on holding while a booking stands. */
export interface StandingGround {
  readonly rules: RulesInForce;
  readonly span: Span;
  readonly bookingKind: 'trial' | 'production';
  readonly polymer: string;
  readonly memberSuspended: boolean;
  /** Whether the plate is the member's own, or its owner lets others run it. */
  readonly mayRun: boolean;
  readonly plateRetired: boolean;
  /** Competences needed for which no sign-off of the member stands through the booking's end. */
  readonly signOffsMissing: readonly string[];
  /** Checks with a stop in the report on the mounted bolster with the resin named; null where it was never made. */
  readonly stops: readonly string[] | null;
  readonly cleared: Cleared;
  /** Times in which the press is out of service, of those that touch the span. */
  readonly outages: readonly Span[];
  /** True where the next inspection of the press is due before the booking is over. */
  readonly inspectionOverdue: boolean;
  readonly revision: { readonly asked: number; readonly latest: number };
}

/** Everything a booking that is wanted is judged by, read in its transaction. */
export interface Ground extends StandingGround {
  readonly now: Date;
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
  | 'step'
  | 'quota'
  | 'press-free'
  | 'in-service'
  | 'barrel';

/** One thing a booking must satisfy. `ask` is null while the room that could answer does not exist yet. */
export interface Condition {
  readonly name: ConditionName;
  readonly ask: ((ground: Ground) => readonly Reason[]) | null;
  /** Reasons by which a booking that stands is told that it lost this; none where it is asked once. */
  readonly lostBy?: readonly ReasonCode[];
}

/** In the order in which a member meets them, which is the order of the reasons in a refusal. */
export const CONDITIONS: readonly Condition[] = [
  { name: 'sign-offs', ask: signOffs, lostBy: ['signoff-missing', 'member-suspended'] },
  { name: 'latest-revision', ask: latestRevision },
  { name: 'plate-check', ask: plateCheck, lostBy: ['report-has-stop', 'report-not-known'] },
  {
    name: 'clearance',
    // Nothing stands of a revision that has been followed by another: the condition before this says so.
    ask: (ground) => [...retired(ground), ...(isFollowed(ground) ? [] : clearance(ground))],
    lostBy: [
      'revision-followed',
      'plate-not-measured',
      'plate-not-cleared',
      'not-cleared-for-resin',
      'report-worse-than-accepted',
      'plate-not-shared',
      'plate-retired',
      'bolster-not-mounted',
    ],
  },
  { name: 'resin', ask: null },
  { name: 'time', ask: time },
  { name: 'opening-hours', ask: openingHours, lostBy: ['booking-outside-opening-hours'] },
  { name: 'stretch', ask: stretch, lostBy: ['booking-too-short', 'booking-too-long'] },
  { name: 'step', ask: step },
  { name: 'quota', ask: quota },
  { name: 'press-free', ask: pressFree },
  { name: 'in-service', ask: inService, lostBy: ['press-out-of-service', 'inspection-overdue'] },
  { name: 'barrel', ask: null },
];

/** Every reason against the booking at once; none when it may be made. */
export function reasonsAgainst(ground: Ground): readonly Reason[] {
  return CONDITIONS.flatMap((condition) => condition.ask?.(ground) ?? []);
}

/** What a booking that stands has lost, one thing to a reason; none while it may be run as it is. */
export function reasonsLost(ground: StandingGround): readonly Reason[] {
  return [
    ...(ground.memberSuspended ? [{ code: 'member-suspended' } as const] : []),
    ...(ground.mayRun ? [] : [{ code: 'plate-not-shared' } as const]),
    ...retired(ground),
    ...ground.signOffsMissing.flatMap((one) => signOffs({ signOffsMissing: [one] })),
    ...(ground.stops === null ? [{ code: 'report-not-known' } as const] : []),
    ...(ground.stops ?? []).flatMap((one) => plateCheck({ stops: [one] })),
    ...(isFollowed(ground) ? [followed(ground)] : clearance(ground)),
    ...reasonsByHours(ground),
    ...outOfService(ground),
    ...inspection(ground),
  ].map(({ code, figures }) => ({ code, ...(figures !== undefined && { figures }) }));
}

function signOffs({ signOffsMissing }: Pick<StandingGround, 'signOffsMissing'>): readonly Reason[] {
  if (signOffsMissing.length === 0) return [];
  return [{ code: 'signoff-missing', figures: { competences: signOffsMissing.join(', ') } }];
}

function latestRevision({ revision }: Ground): readonly Reason[] {
  if (revision.asked === revision.latest) return [];
  return [{ code: 'revision-not-latest', field: 'revision', figures: { latest: revision.latest } }];
}

function isFollowed({ revision }: StandingGround): boolean {
  return revision.asked < revision.latest;
}

function followed({ revision: { asked, latest } }: StandingGround): Reason {
  return { code: 'revision-followed', figures: { booked: asked, latest } };
}

function plateCheck({ stops }: Pick<StandingGround, 'stops'>): readonly Reason[] {
  if (stops === null || stops.length === 0) return [];
  return [{ code: 'report-has-stop', field: 'plateId', figures: { checks: stops.join(', ') } }];
}

/**
 * A production booking wants the plate cleared for production in its resin; a trial, also a further one of a plate that
 * is in production, wants it measured. What is a stop in today's report is told by the check itself.
 */
function clearance({ bookingKind, cleared, polymer }: StandingGround): readonly Reason[] {
  const { reached, polymers, worse } = cleared;
  const field = 'plateId';
  if (reached === 'none' && bookingKind === 'trial') return [{ code: 'plate-not-measured', field }];
  if (bookingKind === 'trial') return [];
  if (reached !== 'production') return [{ code: 'plate-not-cleared', field, figures: { reached } }];
  if (!polymers.includes(polymer)) {
    const figures = { polymer, polymers: polymers.join(', ') };
    return [{ code: 'not-cleared-for-resin', field: 'polymer', figures }];
  }
  return worse
    .filter(({ now }) => now !== 'stop')
    .map(({ check, accepted, now }) => ({
      code: 'report-worse-than-accepted',
      field,
      figures: { checks: check, accepted, now },
    }));
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

function step({ span, rules }: SpanUnderRules): readonly Reason[] {
  const figures = { stepMinutes: rules.slotStepMinutes };
  return (['startsAt', 'endsAt'] as const)
    .filter((field) => !isOnStep(span[field], rules))
    .map((field) => ({ code: 'booking-off-step', field, figures }));
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
function reasonsByHours(ground: SpanUnderRules): readonly Reason[] {
  return [...openingHours(ground), ...stretch(ground)];
}

const HELD = {
  booking: 'press-taken',
  closure: 'press-closed',
  'out-of-service': 'press-out-of-service',
} as const satisfies Record<HeldSpan['purpose'], Reason['code']>;

function pressFree({ held, now, rules, span }: Ground): readonly Reason[] {
  // What is over cannot be in the way of anything.
  if (span.startsAt < now) return [];
  return held.map(({ purpose, startsAt, endsAt, ownBookingId }) => ({
    code: HELD[purpose],
    field: 'startsAt',
    figures: {
      ...fromUntil({ startsAt, endsAt }, rules),
      ...(ownBookingId != null && { ownBookingId }),
    },
  }));
}

/** What is free of a time out of service is held by it already; this is what stands in it none the less. */
function inService(ground: Ground): readonly Reason[] {
  const isHeld = ground.held.some(({ purpose }) => purpose === 'out-of-service');
  return [...(isHeld ? [] : outOfService(ground)), ...inspection(ground)];
}

function outOfService({ outages, rules }: StandingGround): readonly Reason[] {
  return outages.map((outage) => ({
    code: 'press-out-of-service',
    field: 'startsAt',
    figures: fromUntil(outage, rules),
  }));
}

function inspection({ inspectionOverdue }: StandingGround): readonly Reason[] {
  return inspectionOverdue ? [{ code: 'inspection-overdue', field: 'startsAt' }] : [];
}

function retired({ plateRetired }: StandingGround): readonly Reason[] {
  return plateRetired ? [{ code: 'plate-retired', field: 'plateId' }] : [];
}

function fromUntil({ startsAt, endsAt }: Span, { timeZone }: ShopRules) {
  const told = (instant: Date) => `${dayText(instant, timeZone)}, ${clockText(instant, timeZone)}`;
  return { from: told(startsAt), until: told(endsAt) };
}
