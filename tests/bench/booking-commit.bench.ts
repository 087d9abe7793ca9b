import pg from 'pg';
import { book } from '../../server/bookings/book.js';
import type { Actor } from '../../server/context.js';
import type { Database } from '../../server/database/database.js';
import type { SqlValue } from '../../server/database/queryable.js';
import { type Tx, transact } from '../../server/database/transaction.js';
import { Refusal } from '../../server/reasons.js';
import { withBenchDatabase } from '../support/bench-database.js';
import { gullwingRules } from '../support/gullwing-house.js';
import { clearedReport, plainMember, plainPlate, plainRows } from '../support/plain-rows.js';

/**
 * Booking commits a second, 16 clients at once: the command as a request runs it, against the same SQL sent straight
 * by `pg` with values at hand, once as plain statements and once prepared by name. The goal is a ratio of at most 2.
 * Each way takes its turn several times on one database, and the middle round is told.
 */
const CLIENTS = 16;
const BOOKINGS_A_ROUND = 960;
const ROUNDS = 5;
const SLOT_MS = 15 * 60_000;

const allDay = [{ opens: '00:00', closes: '24:00' }];
const alwaysOpen = {
  ...gullwingRules,
  timeZone: 'UTC',
  bookableDaysAhead: 366,
  openingHours: Object.fromEntries(
    Object.keys(gullwingRules.openingHours).map((day) => [day, allDay]),
  ) as typeof gullwingRules.openingHours,
};

interface Client {
  readonly actor: Actor;
  readonly plateId: string;
  readonly reportId: string;
  readonly clearanceId: string;
}

interface Statement {
  readonly sql: string;
  readonly values: readonly SqlValue[];
}

const now = new Date();
let slotsGiven = 0;

function nextSlot(): { startsAt: Date; endsAt: Date } {
  slotsGiven += 1;
  const startsAt = new Date(Math.ceil(now.getTime() / SLOT_MS) * SLOT_MS + slotsGiven * SLOT_MS);
  return { startsAt, endsAt: new Date(startsAt.getTime() + SLOT_MS) };
}

async function clientsOf(database: Database): Promise<readonly Client[]> {
  await plainRows(database, 'clear', alwaysOpen);
  const clients: Client[] = [];
  for (let i = 0; i < CLIENTS; i++) {
    const displayName = `Booker ${i}`;
    const memberId = await plainMember(database, displayName.replace(' ', '-'));
    const plateId = await plainPlate(database, memberId);
    const { reportId, clearanceId } = await clearedReport(database, plateId);
    const actor: Actor = {
      memberId,
      displayName,
      role: 'member',
      stewards: false,
      sessionIdHash: '0'.repeat(64),
    };
    clients.push({ actor, plateId, reportId, clearanceId });
  }
  return clients;
}

async function bookIn(
  tx: Tx,
  { actor, plateId }: Client,
  span: { startsAt: Date; endsAt: Date },
): Promise<void> {
  const wanted = {
    ...span,
    plateId,
    revision: 1,
    polymer: 'PP',
    bookingKind: 'production',
    shots: null,
    granulate: false,
  } as const;
  const outcome = await book({ actor, now, tx }, wanted);
  if (outcome instanceof Refusal) throw new Error(`refused: ${outcome.reasons.map(({ code }) => code)}`);
}

/** What one booking sends, and how to send it for another client and span. */
async function recordBooking(database: Database, client: Client) {
  const statements: Statement[] = [];
  const span = nextSlot();
  await transact(database, (tx) => {
    const recording: Tx = {
      ...tx,
      query: (sql, values = []) => {
        statements.push({ sql, values });
        return tx.query(sql, values);
      },
    };
    return bookIn(recording, client, span);
  });
  const standIns = (other: Client, otherSpan: typeof span): ReadonlyMap<unknown, SqlValue> =>
    new Map<unknown, SqlValue>([
      [client.actor.memberId, other.actor.memberId],
      [client.plateId, other.plateId],
      [client.reportId, other.reportId],
      [client.clearanceId, other.clearanceId],
      [span.startsAt, otherSpan.startsAt],
      [span.endsAt, otherSpan.endsAt],
    ]);
  return (other: Client, otherSpan: typeof span): readonly Statement[] => {
    const standIn = standIns(other, otherSpan);
    return statements.map(({ sql, values }) => ({
      sql,
      values: values.map((value) => standIn.get(value) ?? value),
    }));
  };
}

async function sendStraight(pool: pg.Pool, statements: readonly Statement[], named: boolean): Promise<void> {
  const connection = await pool.connect();
  try {
    await connection.query('begin');
    for (const [place, { sql, values }] of statements.entries()) {
      await connection.query({ text: sql, values: [...values], ...(named && { name: `s${place}` }) });
    }
    await connection.query('commit');
  } finally {
    connection.release();
  }
}

async function perSecond(
  clients: readonly Client[],
  commit: (client: Client) => Promise<void>,
): Promise<number> {
  let left = BOOKINGS_A_ROUND;
  const began = performance.now();
  await Promise.all(
    clients.map(async (client) => {
      while (left-- > 0) await commit(client);
    }),
  );
  return (BOOKINGS_A_ROUND / (performance.now() - began)) * 1000;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

await withBenchDatabase(async (database, databaseUrl) => {
  const clients = await clientsOf(database);
  const sqlFor = await recordBooking(database, clients[0] as Client);
  const pool = new pg.Pool({ connectionString: databaseUrl, max: CLIENTS });
  const ways = {
    'the command': (client: Client) => transact(database, (tx) => bookIn(tx, client, nextSlot())),
    'the same SQL, plain': (client: Client) => sendStraight(pool, sqlFor(client, nextSlot()), false),
    'the same SQL, named': (client: Client) => sendStraight(pool, sqlFor(client, nextSlot()), true),
  };
  const rates = new Map<string, number[]>(Object.keys(ways).map((name) => [name, []]));
  for (let round = 0; round <= ROUNDS; round++) {
    for (const [name, commit] of Object.entries(ways)) {
      const rate = await perSecond(clients, commit);
      // The first round warms connections, plans and code.
      if (round > 0) rates.get(name)?.push(rate);
    }
  }
  await pool.end();
  const middle = new Map([...rates].map(([name, values]) => [name, median(values)]));
  const command = middle.get('the command') ?? Number.NaN;
  for (const [name, rate] of middle) {
    const ratio = name === 'the command' ? '' : `, ratio ${(rate / command).toFixed(2)} (goal at most 2)`;
    process.stdout.write(`${name}: ${rate.toFixed(0)} bookings a second${ratio}\n`);
  }
});
