import type pg from 'pg';
import { statementName } from './statement-name.js';

/** A value that `pg` can bind. An object or array meant for jsonb is given as `JSON.stringify(...)` text. */
export type SqlValue = string | number | bigint | boolean | Date | Uint8Array | null | readonly SqlValue[];

/** Something that runs one statement: the database itself (each statement alone) or a transaction. */
export interface Queryable {
  /**
   * Runs one statement and gives its rows. `sql` is fixed text with `$1…`; never build it from input.
   * int8 and numeric come as numbers, timestamptz as Date, jsonb parsed.
   * @throws pg.DatabaseError; see `pgFaultOf`
   */
  query<Row extends object = Record<string, unknown>>(
    sql: string,
    values?: readonly SqlValue[],
  ): Promise<readonly Row[]>;
}

/** Runs a statement on a pool or a connection, prepared once per connection under a stable name. */
export async function queryRows<Row extends object>(
  client: pg.Pool | pg.PoolClient,
  sql: string,
  values: readonly SqlValue[],
): Promise<readonly Row[]> {
  const name = statementName(sql);
  const result = await client.query<Row>({
    text: sql,
    values: values as SqlValue[],
    ...(name !== undefined && { name }),
  });
  return result.rows;
}
