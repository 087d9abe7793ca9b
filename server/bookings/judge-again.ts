import { recordAudit } from '../audit/record-audit.js';
import type { Tx } from '../database/transaction.js';
import { standingStewards } from '../inductions/sign-off-store.js';
import { notify } from '../notices/notify.js';
import { plateById } from '../plates/store.js';
import { type Reason, Refusal } from '../reasons.js';
import { reasonsLost } from './conditions.js';
import { isSameLoss, lose, lostOf, regain } from './lost-store.js';
import { type RestingGround, restingGround } from './standing-ground.js';
import { restOn, type StandingHeld, setAttention, standingHeld } from './store.js';

/** When and by whom something was brought about that bookings may rest on; null where nobody did. */
export interface BroughtAbout {
  readonly at: Date;
  readonly actorId: string | null;
}

/**
 * Judges bookings again that stand and are to come: what they have lost is written down and told to member and
 * stewards, one thing more as well as the first; one that lacks nothing any more is booked again, and its member told.
 * Each is held before anything is read that it rests on, and every change of such a thing comes here in its own
 * transaction: whichever of two changes comes second sees the other.
 *
 * @param bookingIds in any order; those that are cancelled or over are left alone
 */
export async function judgeAgain(
  tx: Tx,
  bookingIds: readonly string[],
  brought: BroughtAbout,
): Promise<void> {
  // In one order everywhere, so that two who judge at once do not wait for each other.
  for (const bookingId of [...bookingIds].sort()) {
    const booking = await standingHeld(tx, bookingId, brought.at);
    if (booking !== undefined) await judgeOne(tx, booking, brought);
  }
}

async function judgeOne(tx: Tx, booking: StandingHeld, brought: BroughtAbout): Promise<void> {
  const { at } = brought;
  const ground = await groundOf(tx, booking, at);
  const now = ground instanceof Refusal ? ground.reasons : reasonsLost(ground);
  const before = await lostOf(tx, booking.id);
  const lost = now.filter((reason) => !before.some((other) => isSameLoss(reason, other)));
  for (const gone of before) {
    if (!now.some((reason) => isSameLoss(reason, gone))) await regain(tx, booking.id, gone, at);
  }
  for (const reason of lost) await lose(tx, booking.id, reason, at);
  if (now.length === 0) return await standsAgain(tx, booking, ground, brought);
  if (booking.status === 'booked') await setAttention(tx, booking.id);
  if (lost.length > 0) await tellLost(tx, booking, lost, brought);
}

async function groundOf(tx: Tx, booking: StandingHeld, now: Date): Promise<RestingGround | Refusal> {
  const plate = await plateById(tx, booking.plateId);
  if (plate === undefined) throw new Error(`Plate ${booking.plateId} is not there.`);
  return await restingGround(tx, { ...booking, plate }, now);
}

/** Nothing is missing: what it rests on from now on is today's. */
async function standsAgain(
  tx: Tx,
  booking: StandingHeld,
  ground: RestingGround | Refusal,
  { at, actorId }: BroughtAbout,
): Promise<void> {
  if (ground instanceof Refusal || ground.reportId === null) return;
  const { reportId, clearanceId } = ground;
  const isBooked = booking.status === 'booked';
  if (isBooked && reportId === booking.reportId && clearanceId === booking.clearanceId) return;
  await restOn(tx, booking.id, { reportId, clearanceId });
  if (isBooked) return;
  const { id: bookingId, memberId } = booking;
  await recordAudit(tx, {
    at,
    actorId,
    action: 'booking-fit-again',
    subjectKind: 'booking',
    subjectId: bookingId,
    details: { memberId },
  });
  const figures = spanFigures(booking);
  const href = `/bookings/${bookingId}`;
  await notify(tx, { memberIds: [memberId], kind: 'booking-fit-again', figures, href, at });
}

async function tellLost(
  tx: Tx,
  booking: StandingHeld,
  lost: readonly Reason[],
  { at, actorId }: BroughtAbout,
): Promise<void> {
  const { id: bookingId, memberId } = booking;
  const told = JSON.stringify(lost);
  await recordAudit(tx, {
    at,
    actorId,
    action: 'booking-needs-attention',
    subjectKind: 'booking',
    subjectId: bookingId,
    details: { memberId, lost: told },
  });
  const figures = { ...spanFigures(booking), lost: told };
  const notice = { kind: 'booking-needs-attention', figures, href: `/bookings/${bookingId}`, at } as const;
  const stewards = (await standingStewards(tx, at)).filter((id) => id !== memberId);
  await notify(tx, { ...notice, memberIds: [memberId] });
  await notify(tx, { ...notice, memberIds: stewards, aboutId: memberId });
}

function spanFigures({ startsAt, endsAt }: StandingHeld) {
  return { startsAt: startsAt.toISOString(), endsAt: endsAt.toISOString() };
}
