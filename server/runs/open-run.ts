import { recordAudit } from '../audit/record-audit.js';
import { type Booking, bookingById, bookingHeld } from '../bookings/store.js';
import type { Ctx } from '../context.js';
import { pgFaultOf } from '../database/pg-fault.js';
import { stewardsNow } from '../inductions/standing.js';
import { refusalUnless } from '../members/permissions.js';
import { membersHeld } from '../members/store.js';
import { notify } from '../notices/notify.js';
import { bolsterOnPress } from '../press/store.js';
import { Refusal, refuse } from '../reasons.js';
import { reasonsAgainstOpening } from './reasons-against-opening.js';
import type { RunWanted } from './run-wanted.js';
import { insertRun } from './store.js';
import type { PreparedPlan } from './trial/plan.js';

/**
 * Opens a run of a booking: by its member or a steward, who is signed off now, with every line of the pre-use check
 * ticked and another person within call; a trial with a steward beside it.
 *
 * @param prepared a trial's steps, estimated before this transaction began; null for production
 * @returns the run's id, or every reason against it
 */
export async function openRun(
  ctx: Ctx,
  wanted: RunWanted,
  prepared: PreparedPlan | null,
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const seen = await bookingById(tx, wanted.bookingId);
  if (seen === undefined) return refuse('not-found', { figures: { what: 'booking' } });
  const people = await membersHeld(tx, peopleOf(wanted, actor.memberId));
  const self = people.find(({ id }) => id === actor.memberId);
  if (self?.state !== 'active' || self.role !== actor.role) return refuse('session-ended');
  // Their sign-off may have been revoked since the request began; now whoever revokes it waits.
  const stewards = actor.stewards && (await stewardsNow(tx, actor.memberId, now));
  const forbidden = refusalUnless({ ...actor, stewards }, 'booking-run', { ownerId: seen.memberId });
  if (forbidden !== undefined) return forbidden;
  const held = await bookingHeld(tx, seen.id);
  if (held === undefined) return refuse('not-found', { figures: { what: 'booking' } });
  const booking: Booking = { ...seen, ...held };
  const isTrial = booking.bookingKind === 'trial';
  const onPress = await bolsterOnPress(tx, null);
  if (onPress === undefined) return refuse('bolster-not-mounted');
  const { bolster } = onPress;
  // One that is not booked was not prepared for, and is refused for that.
  if (isTrial && booking.status === 'booked' && !isPreparedFor(prepared, bolster)) {
    return refuse('changed-meanwhile');
  }
  const [first, ...others] = await reasonsAgainstOpening(ctx, { wanted, booking, bolster, people });
  if (first !== undefined) return new Refusal([first, ...others]);
  const { withinCall } = wanted;
  const made = await openedInstead(
    insertRun(tx, {
      bookingId: booking.id,
      pressId: booking.pressId,
      bolsterId: bolster.id,
      bolsterVersion: bolster.version,
      plateId: booking.plateId,
      revision: booking.revision,
      kind: booking.bookingKind,
      openedBy: actor.memberId,
      openedAt: now,
      preUse: wanted.preUse,
      withinCallId: memberCalled(wanted),
      withinCallName: withinCall !== null && 'name' in withinCall ? withinCall.name : null,
      attendedBy: isTrial ? wanted.attendedBy : null,
      trialPlan: prepared?.plan ?? null,
    }),
  );
  if (made instanceof Refusal) return made;
  await tellOpened(ctx, made, wanted, booking);
  return made;
}

async function tellOpened({ actor, now, tx }: Ctx, runId: string, wanted: RunWanted, booking: Booking) {
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'run-opened',
    subjectKind: 'run',
    subjectId: runId,
    details: { bookingId: booking.id, kind: booking.bookingKind, memberId: booking.memberId },
  });
  const attendedBy = booking.bookingKind === 'trial' ? wanted.attendedBy : null;
  const calledId = memberCalled(wanted);
  const others = (ids: readonly (string | null)[]) =>
    ids.flatMap((id) => (id === actor.memberId ? [] : (id ?? [])));
  const figures = { plate: booking.plateName, polymer: booking.polymer };
  const told = { figures, aboutId: actor.memberId, at: now } as const;
  await notify(tx, {
    ...told,
    kind: 'trial-attended',
    memberIds: others([attendedBy]),
    href: `/runs/${runId}`,
  });
  const called = calledId === attendedBy ? [] : others([calledId]);
  await notify(tx, { ...told, kind: 'within-call', memberIds: called, href: '/cautions' });
}

/** The member who is within call, where it is one. */
function memberCalled({ withinCall }: RunWanted): string | null {
  return withinCall !== null && 'memberId' in withinCall ? withinCall.memberId : null;
}

function peopleOf(wanted: RunWanted, actorId: string): readonly string[] {
  const named = [memberCalled(wanted), wanted.attendedBy];
  return [...new Set([actorId, ...named.filter((id) => id !== null)])];
}

function isPreparedFor(
  prepared: PreparedPlan | null,
  bolster: { readonly id: string; readonly version: number },
): boolean {
  return prepared?.bolsterId === bolster.id && prepared.bolsterVersion === bolster.version;
}

/** Two who open at once both find the press idle; the second is told by the index. */
async function openedInstead(opening: Promise<string>): Promise<string | Refusal> {
  try {
    return await opening;
  } catch (error) {
    if (pgFaultOf(error)?.constraint === 'run_open_once') return refuse('run-open-already');
    throw error;
  }
}
