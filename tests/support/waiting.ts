import { setTimeout as sleep } from 'node:timers/promises';
import type { Queryable } from '../../server/database/queryable.js';

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
