import type { Tx } from '../database/transaction.js';
import type { ClearanceChanged, GroundChanged, RulesChanged } from '../listeners.js';
import { type BroughtAbout, judgeAgain } from './judge-again.js';
import { bookingsStanding, comingIds } from './store.js';

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
  { plateId, at, actorId }: Pick<ClearanceChanged, 'plateId' | 'at' | 'actorId'>,
): Promise<void> {
  await judgeAgain(tx, await comingIds(tx, { plateId }, at), { at, actorId });
}

/** The press, its bolster or what of them is mounted is another: it bears on every booking that is to come. */
export async function lookOnGround(tx: Tx, { at, actorId }: GroundChanged): Promise<void> {
  await judgeAgain(tx, await comingIds(tx, {}, at), { at, actorId });
}

/** New shop rules: every booking that starts under them is asked again whether it still fits. */
export async function lookUnderRules(tx: Tx, changed: RulesChanged): Promise<void> {
  const { validFrom, validUntil, at, actorId } = changed;
  const under = await bookingsStanding(tx, { from: validFrom, until: validUntil, now: at });
  await judgeAgain(
    tx,
    under.map(({ id }) => id),
    { at, actorId },
  );
}

/** Looks at everybody's coming bookings once more, whatever it was that took something from under them or gave it back. */
export async function lookAtAll(tx: Tx, now: Date): Promise<void> {
  await judgeAgain(tx, await comingIds(tx, {}, now), { at: now, actorId: null });
}
