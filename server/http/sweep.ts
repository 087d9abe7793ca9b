import type { FastifyInstance } from 'fastify';
import type { Queryable } from '../database/queryable.js';
import type { House } from './house.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** Forgets counts after a day, kept answers after two, sessions and links a month after they ran out. */
export async function sweep(db: Queryable, now: Date): Promise<void> {
  const daysAgo = (days: number) => new Date(now.getTime() - days * DAY_MS);
  await db.query('delete from rate_count where window_start < $1', [daysAgo(1)]);
  await db.query('delete from idempotency_key where created_at < $1', [daysAgo(2)]);
  await db.query('delete from session where expires_at < $1', [daysAgo(30)]);
  await db.query('delete from one_time_link where expires_at < $1', [daysAgo(30)]);
}

/** Sweeps once an hour while the service runs. */
export function sweepHourly(app: FastifyInstance, { database, now }: House): void {
  const timer = setInterval(() => {
    sweep(database, now()).catch((error: unknown) => app.log.warn({ err: error }, 'sweeping failed'));
  }, HOUR_MS);
  timer.unref();
  app.addHook('onClose', async () => clearInterval(timer));
}
