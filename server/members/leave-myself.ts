import type { Actor } from '../context.js';
import { transact } from '../database/transaction.js';
import type { House } from '../http/house.js';
import { Refusal } from '../reasons.js';
import { confirmPassword } from './confirm-password.js';
import { leave } from './leave.js';

/** Leaves for good, once the password has been given again. */
export async function leaveMyself(house: House, actor: Actor, password: string): Promise<string | Refusal> {
  const known = await confirmPassword(house, actor, password, 'password');
  if (known instanceof Refusal) return known;
  return transact(house.database, (tx) =>
    leave({ actor, now: house.now(), tx, stewardsAt: house.stewardsAt }, house.listeners, {
      memberId: actor.memberId,
    }),
  );
}
