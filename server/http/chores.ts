import type { FastifyInstance } from 'fastify';
import { type Tx, transact } from '../database/transaction.js';
import type { House } from './house.js';

/** Something the service does by itself from time to time. Done twice, it does nothing the second time. */
export interface Chore {
  readonly name: string;
  /** What takes long, done first and outside the transaction. */
  readonly before?: () => Promise<void>;
  readonly run: (tx: Tx, now: Date) => Promise<void>;
}

const HOUR_MS = 3_600_000;

/** Does a chore, unless another process is doing it at this moment. */
export async function doChore({ database, now }: House, { name, before, run }: Chore): Promise<void> {
  await before?.();
  await transact(database, async (tx) => {
    const [lock] = await tx.query<{ free: boolean }>(
      'select pg_try_advisory_xact_lock(hashtextextended($1, 0)) as free',
      [`platenshare chore ${name}`],
    );
    if (lock?.free === true) await run(tx, now());
  });
}

/** Does the chores once the service listens, and once an hour from then on. */
export function doChoresHourly(app: FastifyInstance, house: House, chores: readonly Chore[]): void {
  let underWay: Promise<void> = Promise.resolve();
  const doAll = () => {
    underWay = chores.reduce(
      (before, chore) =>
        before
          .then(() => doChore(house, chore))
          .catch((error: unknown) => app.log.warn({ err: error, chore: chore.name }, 'a chore failed')),
      underWay,
    );
  };
  const timer = setInterval(doAll, HOUR_MS);
  timer.unref();
  app.addHook('onListen', async () => doAll());
  app.addHook('onClose', async () => {
    clearInterval(timer);
    await underWay;
  });
}
