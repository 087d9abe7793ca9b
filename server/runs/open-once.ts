import { bookingById } from '../bookings/store.js';
import type { Actor } from '../context.js';
import { transact } from '../database/transaction.js';
import { memberAsking } from '../http/asker.js';
import { idempotent } from '../http/idempotent.js';
import { refusalUnless } from '../members/permissions.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { Refusal, refuse } from '../reasons.js';
import { openRun } from './open-run.js';
import type { RunWanted } from './run-wanted.js';
import { runReply } from './schemas.js';
import { type PreparedPlan, preparePlan } from './trial/plan.js';
import { viewAfter } from './views.js';

/** Opens a run, once for a key; a trial's steps are estimated before the transaction begins. */
export async function openOnce(
  house: CheckingHouse,
  actor: Actor,
  wanted: RunWanted,
  key: string | undefined,
) {
  const prepared = await preparedFor(house, actor, wanted.bookingId);
  if (prepared instanceof Refusal) return prepared;
  return transact(house.database, (tx) => {
    const ctx = { actor, now: house.now(), tx };
    const route = 'POST /bookings/:id/run';
    return idempotent(ctx, { route, key, body: wanted, reply: runReply }, async () =>
      viewAfter(ctx, await openRun(ctx, wanted, prepared)),
    );
  });
}

async function preparedFor(
  house: CheckingHouse,
  actor: Actor,
  bookingId: string,
): Promise<PreparedPlan | null | Refusal> {
  const booking = await bookingById(house.database, bookingId);
  if (booking === undefined) return refuse('not-found', { figures: { what: 'booking' } });
  const forbidden = refusalUnless(actor, 'booking-run', { ownerId: booking.memberId });
  if (forbidden !== undefined) return forbidden;
  if (booking.bookingKind !== 'trial' || booking.status !== 'booked') return null;
  return preparePlan(house, booking, memberAsking(actor));
}
