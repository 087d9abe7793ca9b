import type { Booking } from '../bookings/store.js';
import type { Ctx } from '../context.js';
import { findPolymer } from '../engineering/polymers/polymers.js';
import { missingCompetences, stewardsNow } from '../inductions/standing.js';
import type { Member } from '../members/store.js';
import { standingClearance } from '../plates/clearance/standing.js';
import { plateById } from '../plates/store.js';
import type { Reason } from '../reasons.js';
import { isOpeningTime, openingSpan } from './opening-time.js';
import { linesMissing } from './pre-use.js';
import type { RunWanted } from './run-wanted.js';
import { openRunOf, polymersRunOn } from './store.js';

/** What whoever opens a run is signed off for, whatever its member was for booking it; as the trigger `run_rules` asks. */
const OPENER_NEEDS = ['press-operation', 'plate-change'] as const;

interface Opening {
  readonly wanted: RunWanted;
  readonly booking: Booking;
  /** The one that is mounted. */
  readonly bolster: { readonly id: string; readonly version: number };
  /** Everybody who is named, and the actor, held. */
  readonly people: readonly Member[];
}

/** Every reason against opening a run, in the order in which one meets them. */
export async function reasonsAgainstOpening(ctx: Ctx, opening: Opening): Promise<readonly Reason[]> {
  const { wanted, booking, bolster, people } = opening;
  return [
    ...ofBooking(booking, ctx.now),
    ...(await ofClearance(ctx, booking, bolster)),
    ...(await ofOpener(ctx)),
    ...ofCheck(wanted),
    ...ofCall(wanted, ctx.actor.memberId, people),
    ...(await ofAttendance(ctx, wanted, booking, people)),
    ...(await ofPress(ctx, booking)),
    ...(await ofBarrel(ctx, booking)),
  ];
}

function ofBooking(booking: Booking, now: Date): readonly Reason[] {
  if (booking.status === 'cancelled') return [{ code: 'booking-already-cancelled' }];
  const reasons: Reason[] = [];
  if (booking.status === 'needs-attention') reasons.push({ code: 'run-booking-needs-attention' });
  if (!isOpeningTime(booking, now)) {
    const { startsAt, endsAt } = openingSpan(booking);
    const figures = { from: startsAt.toISOString(), until: endsAt.toISOString() };
    reasons.push({ code: 'run-outside-booking', figures });
  }
  return reasons;
}

/** The booking had it when it was made; what it lost since marks it, but a run is opened on what is known now. */
async function ofClearance(
  { tx }: Ctx,
  { plateId, revision, polymer, bookingKind }: Booking,
  bolster: { readonly id: string; readonly version: number },
): Promise<readonly Reason[]> {
  const thing = { plateId, revision, bolsterId: bolster.id, bolsterVersion: bolster.version };
  const { reached, polymers } = await standingClearance(tx, thing);
  if (bookingKind === 'trial') {
    return reached === 'none' ? [{ code: 'run-not-cleared', figures: { step: 'fit' } }] : [];
  }
  return polymers.includes(polymer)
    ? []
    : [{ code: 'run-not-cleared', figures: { step: 'production', polymer } }];
}

async function ofOpener({ actor, now, tx }: Ctx): Promise<readonly Reason[]> {
  const missing = await missingCompetences(tx, actor.memberId, OPENER_NEEDS, now);
  return missing.length === 0
    ? []
    : [{ code: 'signoff-missing', figures: { competences: missing.join(', ') } }];
}

function ofCheck({ preUse }: RunWanted): readonly Reason[] {
  const missing = linesMissing(preUse);
  if (missing.length === 0) return [];
  return [{ code: 'pre-use-missing', field: 'preUse', figures: { lines: missing.join(', ') } }];
}

function ofCall({ withinCall }: RunWanted, actorId: string, people: readonly Member[]): readonly Reason[] {
  if (withinCall === null) return [{ code: 'within-call-missing', field: 'withinCall' }];
  const self = people.find(({ id }) => id === actorId);
  if ('name' in withinCall) {
    return sameName(withinCall.name, self?.displayName ?? '')
      ? [{ code: 'within-call-oneself', field: 'withinCall' }]
      : [];
  }
  if (withinCall.memberId === actorId) return [{ code: 'within-call-oneself', field: 'withinCall' }];
  const member = people.find(({ id }) => id === withinCall.memberId);
  return member?.state === 'active'
    ? []
    : [{ code: 'not-found', field: 'withinCall', figures: { what: 'member' } }];
}

function sameName(one: string, other: string): boolean {
  return one.trim().toLocaleLowerCase('en') === other.trim().toLocaleLowerCase('en');
}

/** A trial is an attended first run: a steward stands by who is not the one whose plate or booking it is. */
async function ofAttendance(
  { now, tx }: Ctx,
  { attendedBy }: RunWanted,
  booking: Booking,
  people: readonly Member[],
): Promise<readonly Reason[]> {
  if (booking.bookingKind !== 'trial') return [];
  const steward = people.find(({ id }) => id === attendedBy);
  const stands =
    steward?.state === 'active' && steward.role !== 'member' && (await stewardsNow(tx, steward.id, now));
  const plate = await plateById(tx, booking.plateId);
  const isNobodysOwn = attendedBy !== booking.memberId && attendedBy !== plate?.ownerId;
  return stands && isNobodysOwn ? [] : [{ code: 'trial-unattended', field: 'attendedBy' }];
}

/**
 * Acetal and halogenated polymers break each other down, and purging never clears a barrel fully: until strips and
 * cleans of the barrel are on record, one family shuts the other out on this press.
 */
async function ofBarrel({ tx }: Ctx, { pressId, polymer }: Booking): Promise<readonly Reason[]> {
  const family = findPolymer(polymer)?.barrelFamily ?? null;
  if (family === null) return [];
  const before = (await polymersRunOn(tx, pressId)).find((one) => {
    const other = findPolymer(one)?.barrelFamily ?? null;
    return other !== null && other !== family;
  });
  return before === undefined ? [] : [{ code: 'barrel-other-family', figures: { polymer, before } }];
}

async function ofPress({ tx }: Ctx, { pressId }: Booking): Promise<readonly Reason[]> {
  const open = await openRunOf(tx, pressId);
  return open === undefined ? [] : [{ code: 'run-open-already', figures: { who: open.openedByName } }];
}
