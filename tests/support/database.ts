import { randomBytes } from 'node:crypto';
import { inject } from 'vitest';
import { type Database, openDatabase } from '../../server/database/database.js';
import { afterwards } from './afterwards.js';
import { databaseNamed, run } from './database-server.js';

export interface TestDatabase extends Database {
  readonly url: string;
}

/**
 * A database of the calling test file's own, migrated and without a row, dropped when the file is done.
 * Call it at the top level of the file: `const database = await testDatabase();`
 */
export async function testDatabase(): Promise<TestDatabase> {
  const url = await testDatabaseUrl();
  const database = await openDatabase(url, () => {});
  afterwards(database.close);
  return { ...database, url };
}

/** As `testDatabase`, for a file whose database is opened by other processes: only the address. */
export async function testDatabaseUrl(): Promise<string> {
  const { adminUrl, template } = inject('testServer');
  return clone(adminUrl, template);
}

/** A database without anything in it, dropped when the calling test file is done. */
export async function emptyDatabaseUrl(): Promise<string> {
  return clone(inject('testServer').adminUrl, 'template0');
}

async function clone(adminUrl: string, template: string): Promise<string> {
  const name = `platenshare_test_${randomBytes(6).toString('hex')}`;
  await run(adminUrl, `create database ${name} template ${template}`);
  afterwards(() => run(adminUrl, `drop database if exists ${name} with (force)`));
  return databaseNamed(adminUrl, name);
}
