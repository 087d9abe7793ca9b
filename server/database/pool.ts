import pg from 'pg';

/** Connections a process keeps: enough for 16 writers at once and a few readers, far below PostgreSQL's 100. */
const CONNECTIONS_MAX = 24;
const CONNECT_TIMEOUT_MS = 10_000;
const STATEMENT_TIMEOUT_MS = 15_000;
const LOCK_TIMEOUT_MS = 8_000;
const IDLE_IN_TRANSACTION_TIMEOUT_MS = 20_000;

const INT8_OID = 20;
const NUMERIC_OID = 1700;

/** Counts, pence, grams and millimetres all fit a double exactly enough; a number that does not is a fault. */
function numberOf(text: string): number {
  const value = Number(text);
  if (Number.isInteger(value) && !Number.isSafeInteger(value)) throw new RangeError(`${text} is too large`);
  return value;
}

const types: pg.CustomTypesConfig = {
  getTypeParser: (oid: number, format?: 'text' | 'binary') =>
    oid === INT8_OID || oid === NUMERIC_OID ? numberOf : pg.types.getTypeParser(oid, format as 'text'),
};

/**
 * The one pool of a process. The time zone is pinned because Prisma's adapter reads and writes timestamptz as
 * if the session were in UTC: elsewhere it stores other instants and reads its own mistake back unchanged.
 */
export function openPool(databaseUrl: string, onIdleError: (error: Error) => void): pg.Pool {
  const pool = new pg.Pool({
    connectionString: databaseUrl,
    max: CONNECTIONS_MAX,
    connectionTimeoutMillis: CONNECT_TIMEOUT_MS,
    application_name: 'platenshare',
    options: [
      '-c TimeZone=UTC',
      `-c statement_timeout=${STATEMENT_TIMEOUT_MS}`,
      `-c lock_timeout=${LOCK_TIMEOUT_MS}`,
      `-c idle_in_transaction_session_timeout=${IDLE_IN_TRANSACTION_TIMEOUT_MS}`,
    ].join(' '),
    types,
  });
  pool.on('error', onIdleError);
  // A connection that breaks while it is in use fails its statement; without a listener it would end the process too.
  pool.on('connect', (client) => client.on('error', () => {}));
  return pool;
}
