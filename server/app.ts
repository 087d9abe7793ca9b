import fastify, { type FastifyInstance } from 'fastify';
import type { Database } from './database/database.js';
import type { Settings } from './settings.js';

export interface Dependencies {
  readonly settings: Settings;
  readonly database: Database;
  readonly now: () => Date;
}

/** Puts the house together; it neither listens nor owns what it is given. */
export async function buildApp({ settings, database }: Dependencies): Promise<FastifyInstance> {
  const app = fastify({ logger: { level: settings.logLevel }, forceCloseConnections: true });
  app.get('/health/live', () => ({ status: 'live' }));
  app.get('/health/ready', async () => {
    await database.query('select 1 as ready');
    return { status: 'ready' };
  });
  return app;
}
