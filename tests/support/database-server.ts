import { randomBytes } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import type { TestProject } from 'vitest/node';
import { startEmbedded } from '../../server/database/embedded/start.js';
import { migrate } from '../../server/database/migrate.js';

declare module 'vitest' {
  interface ProvidedContext {
    /** May create databases; `template` names the migrated one to clone. */
    readonly testServer: { readonly adminUrl: string; readonly template: string };
  }
}

/**
 * One PostgreSQL for the whole run, with one migrated template: the server behind DATABASE_URL (its role must be
 * allowed to create databases), or else an embedded one in a folder of its own.
 */
export default async function setUp({ provide }: TestProject): Promise<() => Promise<void>> {
  const given = process.env.DATABASE_URL;
  const server = given ? { url: given, stop: async () => {} } : await embeddedServer();
  const template = `platenshare_template_${randomBytes(6).toString('hex')}`;
  try {
    await run(server.url, `create database ${template} template template0 encoding 'UTF8'`);
    await migrate(databaseNamed(server.url, template));
  } catch (error) {
    await server.stop();
    throw error;
  }
  provide('testServer', { adminUrl: server.url, template });
  return async () => {
    await run(server.url, `drop database if exists ${template} with (force)`);
    await server.stop();
  };
}

async function embeddedServer(): Promise<{ url: string; stop: () => Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'platenshare-tests-'));
  const embedded = await startEmbedded(folder, (error) => {
    throw error;
  });
  // Nothing here has to outlive a power cut.
  await run(embedded.databaseUrl, 'alter system set fsync = off');
  await run(embedded.databaseUrl, 'select pg_reload_conf()');
  const stop = async () => {
    await embedded.stop();
    await rm(folder, { recursive: true, force: true });
  };
  return { url: embedded.databaseUrl, stop };
}

/** The address of another database on the same server. */
export function databaseNamed(url: string, name: string): string {
  const address = new URL(url);
  address.pathname = `/${name}`;
  return address.href;
}

/** Runs one statement on a connection of its own. */
export async function run(url: string, sql: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await client.query(sql);
  } finally {
    await client.end();
  }
}
