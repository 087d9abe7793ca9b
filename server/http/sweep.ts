import type { FastifyInstance } from 'fastify';
import type { House } from './house.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** Once an hour, forgets counts, kept answers and sessions that nobody can need any more. */
export function sweepHourly(app: FastifyInstance, { database, now }: House): void {
  const sweep = async () => {
    const at = now().getTime();
    await database.query('delete from rate_count where window_start < $1', [new Date(at - DAY_MS)]);
    await database.query('delete from idempotency_key where created_at < $1', [new Date(at - 2 * DAY_MS)]);
    await database.query('delete from session where expires_at < $1', [new Date(at - 30 * DAY_MS)]);
  };
  const timer = setInterval(() => {
    sweep().catch((error: unknown) => app.log.warn({ err: error }, 'sweeping failed'));
  }, HOUR_MS);
  timer.unref();
  app.addHook('onClose', async () => clearInterval(timer));
}
