import type { Tx } from '../database/transaction.js';
import type {
  BackInService,
  GroundChanged,
  OutOfService,
  RulesChanged,
  ServiceChanging,
} from '../listeners.js';
import { type BroughtAbout, judgeAgain } from './judge-again.js';
import { keepForeseen } from './keep-foreseen.js';
import { reassess } from './reassess.js';
import { bookingsIn, bookingsStanding, comingIds, standingHeld } from './store.js';

/** Something about a member changed that their bookings rest on: a sign-off, a suspension. */
export async function lookAtMember(
  tx: Tx,
  { memberId, at, actorId }: BroughtAbout & { readonly memberId: string },
): Promise<void> {
  await judgeAgain(tx, await comingIds(tx, { memberId }, at), { at, actorId });
}

/** Something about a plate changed that bookings of it rest on: a clearance, a revision, who may run it. */
export async function lookAtPlate(
  tx: Tx,
  { plateId, at, actorId }: BroughtAbout & { readonly plateId: string },
): Promise<void> {
  await judgeAgain(tx, await comingIds(tx, { plateId }, at), { at, actorId });
}

/** New shop rules: every booking that starts under them is asked again whether it still fits. */
export async function lookUnderRules(tx: Tx, changed: RulesChanged): Promise<void> {
  const { version, foreseen, validFrom, validUntil, at, actorId } = changed;
  await keepForeseen(tx, foreseen, version, at);
  await reassess(tx, at);
  const under = await bookingsStanding(tx, { from: validFrom, until: validUntil, now: at });
  await judgeAgain(tx, idsOf(under), { at, actorId });
}

/** The press, its bolster or what of them is mounted is another: it bears on every booking that is to come. */
export async function lookOnGround(tx: Tx, { foreseen, at, actorId }: GroundChanged): Promise<void> {
  await keepForeseen(tx, foreseen, null, at);
  await reassess(tx, at);
  await judgeAgain(tx, await comingIds(tx, {}, at), { at, actorId });
}

/** Holds what stands in a span before the equipment is held, as who moves or cancels a booking does. */
export async function holdTouched(tx: Tx, { startsAt, endsAt, at }: ServiceChanging): Promise<void> {
  const touched = await bookingsIn(tx, { startsAt, endsAt });
  for (const { bookingId } of touched.toSorted((one, other) => (one.bookingId < other.bookingId ? -1 : 1)))
    await standingHeld(tx, bookingId, at);
}

/** Equipment is out of service for a time, or back in it before. */
export async function lookAtTime(
  tx: Tx,
  { startsAt, endsAt, at, actorId }: OutOfService | BackInService,
): Promise<void> {
  const touched = await bookingsIn(tx, { startsAt, endsAt });
  await judgeAgain(
    tx,
    touched.map(({ bookingId }) => bookingId),
    { at, actorId },
  );
}

/** Looks at everybody's coming bookings once more, whatever it was that took something from under them or gave it back. */
export async function lookAtAll(tx: Tx, now: Date): Promise<void> {
  await reassess(tx, now);
  await judgeAgain(tx, await comingIds(tx, {}, now), { at: now, actorId: null });
}

function idsOf(bookings: readonly { readonly id: string }[]): readonly string[] {
  return bookings.map(({ id }) => id);
}
