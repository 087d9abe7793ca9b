import { isDriverAdapterError } from '@prisma/driver-adapter-utils';
import pg from 'pg';

/** What PostgreSQL objected to: its SQLSTATE and, where a constraint or trigger is behind it, that name. */
export interface PgFault {
  readonly sqlState: string;
  readonly constraint: string | undefined;
}

/** Two transactions met; the same callback run again can pass: serialization failure, deadlock. */
const WORTH_RETRYING: ReadonlySet<string> = new Set(['40001', '40P01']);

/** PostgreSQL gave up waiting: lock, statement or idle time-out, too many connections, shutting down. */
const BUSY: ReadonlySet<string> = new Set(['55P03', '57014', '25P03', '53300', '57P01', '57P03']);

const QUOTED_CONSTRAINT = /constraint "([^"]+)"/;

/**
 * The database's own objection behind a thrown error, whichever way it came: from `tx.query`, from a Prisma
 * model, or at commit. `undefined` when the error is none of PostgreSQL's. Detail and message stay behind on
 * purpose: they can hold whole rows.
 */
export function pgFaultOf(error: unknown): PgFault | undefined {
  if (error instanceof pg.DatabaseError) {
    return error.code === undefined ? undefined : { sqlState: error.code, constraint: error.constraint };
  }
  const adapterError = adapterErrorBehind(error);
  if (!(adapterError instanceof Error) || !isDriverAdapterError(adapterError)) return undefined;
  const { originalCode, originalMessage = '' } = adapterError.cause;
  if (originalCode === undefined) return undefined;
  const named = 'constraint' in adapterError.cause ? adapterError.cause.constraint : undefined;
  const constraint =
    named !== undefined && 'index' in named ? named.index : QUOTED_CONSTRAINT.exec(originalMessage)?.[1];
  return { sqlState: originalCode, constraint };
}

/** True when running the whole transaction again may succeed. */
export function isWorthRetrying(error: unknown): boolean {
  return WORTH_RETRYING.has(pgFaultOf(error)?.sqlState ?? '');
}

/** True when the database was too busy, or is stopping: the caller may try again later, nothing was written. */
export function isDatabaseBusy(error: unknown): boolean {
  return BUSY.has(pgFaultOf(error)?.sqlState ?? '');
}

function adapterErrorBehind(error: unknown): unknown {
  if (typeof error !== 'object' || error === null || !('meta' in error)) return error;
  const { meta } = error;
  return typeof meta === 'object' && meta !== null && 'driverAdapterError' in meta
    ? meta.driverAdapterError
    : error;
}
