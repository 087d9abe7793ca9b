import type pg from 'pg';
import type { PrismaClient } from './generated/client.js';
import { openPool } from './pool.js';
import { prismaOn } from './prisma-joins.js';
import { type Queryable, queryRows } from './queryable.js';

/** The process's way to PostgreSQL. What `query` runs stands alone; what belongs together goes through `transact`. */
export interface Database extends Queryable {
  /** Prisma's models, each call a transaction of its own; inside `transact` use `tx.prisma()` instead. */
  readonly prisma: PrismaClient;
  /** For what needs a connection of its own, such as LISTEN. */
  readonly pool: pg.Pool;
  readonly close: () => Promise<void>;
}

/**
 * Opens the pool and makes sure that the database is one this service can be trusted with: PostgreSQL 15 or
 * later, UTF-8, sessions in UTC.
 *
 * @throws Error with a sentence for the operator
 */
export async function openDatabase(
  databaseUrl: string,
  onIdleError: (error: Error) => void,
): Promise<Database> {
  const pool = openPool(databaseUrl, onIdleError);
  const prisma = prismaOn(pool);
  const database: Database = {
    prisma,
    pool,
    query: (sql, values = []) => queryRows(pool, sql, values),
    close: async () => {
      await prisma.$disconnect();
      await pool.end();
    },
  };
  try {
    await assertUsable(database);
  } catch (error) {
    await database.close();
    throw error;
  }
  return database;
}

const OLDEST_SERVER = 150000;

async function assertUsable(database: Database): Promise<void> {
  const [session] = await database.query<{ version: number; zone: string; encoding: string }>(
    `select current_setting('server_version_num')::int as version, current_setting('TimeZone') as zone,
       current_setting('server_encoding') as encoding`,
  );
  if (session === undefined) throw new Error('The database did not answer a simple question.');
  if (session.version < OLDEST_SERVER) {
    throw new Error(`PostgreSQL 15 or later is needed; this server says ${session.version}.`);
  }
  if (session.encoding !== 'UTF8') {
    throw new Error(`The database must be in UTF8; it is in ${session.encoding}.`);
  }
  if (session.zone !== 'UTC') {
    throw new Error(`Sessions must be in UTC; something between us and the server sets ${session.zone}.`);
  }
}
