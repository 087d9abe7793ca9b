import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import pg from 'pg';
import { PROJECT_FOLDER } from '../project-folder.js';
import { DatabaseUnreachable } from './database-unreachable.js';

const MIGRATIONS_FOLDER = join(PROJECT_FOLDER, 'prisma', 'migrations');

/** The migrations and the database disagree; the message says what to do. Nothing was changed. */
export class MigrationRefused extends Error {
  override readonly name = 'MigrationRefused';
}

interface Migration {
  readonly name: string;
  readonly sql: string;
  readonly checksum: string;
}

/** One number for everybody who migrates a database of this service; PostgreSQL keeps such locks per database. */
const MIGRATION_LOCK = 7_283_190_441;

/**
 * Brings a database up to the migrations in `folder` (`NNNN_name/migration.sql`), each in one transaction of its
 * own. Services that start together wait for one another. Sent as whole files: a runner that splits at
 * semicolons breaks the bodies of functions.
 *
 * @returns the names that were applied now
 * @throws DatabaseUnreachable when it cannot be opened
 * @throws MigrationRefused when an applied migration was edited, removed, or comes from a newer release
 */
export async function migrate(
  databaseUrl: string,
  folder: string = MIGRATIONS_FOLDER,
): Promise<readonly string[]> {
  const migrations = await readMigrations(folder);
  const client = new pg.Client({ connectionString: databaseUrl, options: '-c TimeZone=UTC' });
  await client.connect().catch((error) => {
    throw new DatabaseUnreachable(databaseUrl, error);
  });
  try {
    await client.query('select pg_advisory_lock($1)', [MIGRATION_LOCK]);
    await client.query(`create table if not exists schema_migration (
      name text primary key,
      checksum text not null,
      applied_at timestamptz(3) not null default now()
    )`);
    const missing = missingFrom(await appliedTo(client), migrations);
    for (const migration of missing) await apply(client, migration);
    return missing.map(({ name }) => name);
  } finally {
    await client.end();
  }
}

async function readMigrations(folder: string): Promise<readonly Migration[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  return Promise.all(names.sort().map((name) => readMigration(folder, name)));
}

async function readMigration(folder: string, name: string): Promise<Migration> {
  const sql = await readFile(join(folder, name, 'migration.sql'), 'utf8');
  // A checkout that turned line ends into CRLF is still the same migration.
  const checksum = createHash('sha256').update(sql.replaceAll('\r\n', '\n')).digest('hex');
  return { name, sql, checksum };
}

type Applied = Pick<Migration, 'name' | 'checksum'>;

async function appliedTo(client: pg.Client): Promise<readonly Applied[]> {
  const { rows } = await client.query<Applied>('select name, checksum from schema_migration order by name');
  return rows;
}

function missingFrom(applied: readonly Applied[], migrations: readonly Migration[]): readonly Migration[] {
  for (const [place, done] of applied.entries()) {
    const known = migrations.find(({ name }) => name === done.name);
    if (known === undefined) {
      throw new MigrationRefused(
        `The database has migration ${done.name}, which this release does not know: it was used by a newer ` +
          'release. Start that release, or restore a backup made before it.',
      );
    }
    if (known.checksum !== done.checksum) {
      throw new MigrationRefused(
        `Migration ${done.name} was edited after it had been applied to this database. Put its file back as it ` +
          'was and write the change as a further migration.',
      );
    }
    if (migrations[place] !== known) {
      throw new MigrationRefused(
        `Migration ${migrations[place]?.name} comes before ${done.name}, which this database already has. ` +
          'Number it after the last one.',
      );
    }
  }
  return migrations.slice(applied.length);
}

async function apply(client: pg.Client, { name, sql, checksum }: Migration): Promise<void> {
  await client.query('begin');
  try {
    await client.query(sql);
    await client.query('insert into schema_migration (name, checksum) values ($1, $2)', [name, checksum]);
    await client.query('commit');
  } catch (error) {
    await client.query('rollback');
    throw new Error(`Migration ${name} failed and was undone.`, { cause: error });
  }
}
