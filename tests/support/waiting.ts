import { setTimeout as sleep } from 'node:timers/promises';
import type { Database } from '../../server/database/database.js';
import type { Queryable } from '../../server/database/queryable.js';
import { type Tx, transact } from '../../server/database/transaction.js';
import { memberHeld } from '../../server/members/store.js';

/** Until a statement waits for a row that another transaction holds, or there is nobody left who could. */
export async function untilSomebodyWaits(db: Queryable, isOver: () => boolean = () => false): Promise<void> {
  while (!isOver()) {
    const waiting = await db.query(
      `select from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'`,
    );
    if (waiting.length > 0) return;
    await sleep(2);
  }
}

/** Until so many statements wait for what other transactions hold. */
async function untilWaiting(db: Queryable, count: number): Promise<void> {
  for (;;) {
    const waiting = await db.query(
      `select from pg_stat_activity where datname = current_database() and wait_event_type = 'Lock'`,
    );
    if (waiting.length >= count) return;
    await sleep(2);
  }
}

/**
 * Holds a member, or whatever else is given, lets the first ask until it waits behind that, then the second until it waits too, and lets go:
 * whoever waited first is first to go on. Gives the answers of both.
 */
export async function inThisOrder<First, Second>(
  database: Database,
  held: string | ((tx: Tx) => Promise<unknown>),
  first: () => PromiseLike<First>,
  second: () => PromiseLike<Second>,
): Promise<readonly [First, Second]> {
  const { answers } = await transact(database, async (tx) => {
    await (typeof held === 'string' ? memberHeld(tx, held) : held(tx));
    const begun = Promise.resolve(first());
    await untilWaiting(database, 1);
    const followed = Promise.resolve(second());
    await untilWaiting(database, 2);
    return { answers: Promise.all([begun, followed]) };
  });
  return answers;
}
