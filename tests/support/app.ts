import type { FastifyInstance } from 'fastify';
import { afterAll } from 'vitest';
import { buildApp } from '../../server/app.js';
import type { Database } from '../../server/database/database.js';
import { layFirstContents } from '../../server/inductions/first-contents.js';
import { prepareInstallation } from '../../server/members/installation.js';
import { readSettings, type Settings } from '../../server/settings.js';
import { addRules } from '../../server/shop/store.js';
import { gullwingRules } from './gullwing-house.js';

/** A clock that stands still until a test turns it. */
export class TestClock {
  #at: number;

  constructor(at: string | Date) {
    this.#at = new Date(at).getTime();
  }

  readonly now = (): Date => new Date(this.#at);

  turn(minutes: number): void {
    this.#at += minutes * 60_000;
  }
}

export interface TestHouse {
  readonly app: FastifyInstance;
  readonly database: Database;
  /** Where the real server listens. */
  readonly url: string;
  readonly settings: Settings;
  readonly clock: TestClock;
  readonly firstRunPath: string | undefined;
}

export interface HouseWanted {
  readonly settings?: Partial<Settings>;
  /** Instant at which the clock stands; the real one's time at the start otherwise. */
  readonly at?: string | Date;
  /** False leaves the shop rules out, as in a house that has just been opened. */
  readonly withRules?: boolean;
}

/**
 * The real application on a database of its own, listening on a port of its own until the file is done.
 * Rate limits are on as in life, but generous to strangers.
 */
export async function testHouse(database: Database, wanted: HouseWanted = {}): Promise<TestHouse> {
  const clock = new TestClock(wanted.at ?? new Date());
  const settings: Settings = {
    ...readSettings({ NODE_ENV: 'test', LOG_LEVEL: 'silent', DEMO: 'off', CHECK_WORKERS: '2' }),
    ...wanted.settings,
  };
  const { firstRunPath } = await prepareInstallation(database, settings, clock.now(), null);
  if (wanted.withRules !== false && (await database.query('select from shop_rule limit 1')).length === 0) {
    await addRules(database, gullwingRules, new Date('2020-01-01T00:00:00Z'), null);
  }
  await layFirstContents(database, new Date('2020-01-01T00:00:00Z'));
  const app = await buildApp({ settings, database, now: clock.now });
  afterAll(() => app.close());
  const url = await app.listen({ host: '127.0.0.1', port: 0 });
  return { app, database, url, settings, clock, firstRunPath };
}
