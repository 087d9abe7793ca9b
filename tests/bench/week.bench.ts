import fastify from 'fastify';
import { YARD_ACCOUNTS, YARD_PASSWORD } from '../../prisma/demo/gullwing-yard.js';
import { seedDemo } from '../../prisma/demo/seed-demo.js';
import { buildApp } from '../../server/app.js';
import type { Database } from '../../server/database/database.js';
import type { SqlValue } from '../../server/database/queryable.js';
import { transact } from '../../server/database/transaction.js';
import { cookieNames } from '../../server/http/cookies.js';
import { prepareInstallation } from '../../server/members/installation.js';
import { readSettings } from '../../server/settings.js';
import { withBenchDatabase } from '../support/bench-database.js';
import { loadClient } from '../support/http-load.js';

/**
 * Press weeks a second for a signed-in member over HTTP, against a bare server that sends the same statements to the
 * same database in the same order and answers with the same bytes. The goal is at least half its rate. Both serve from this process in
 * turn, the client asks from a thread of its own, and the middle round is told.
 */
const CONNECTIONS = 16;
const REQUESTS_A_ROUND = 2000;
const ROUNDS = 5;

interface Statement {
  readonly sql: string;
  readonly values: readonly SqlValue[];
}

/** The database, with every statement that goes through it noted. */
function noting(database: Database, noted: Statement[]): Database {
  return {
    ...database,
    query: (sql, values = []) => {
      noted.push({ sql, values });
      return database.query(sql, values);
    },
  };
}

/** The cookies of a signed-in member who has seen a page before. */
async function cookiesOf(url: string): Promise<string> {
  const reply = await fetch(`${url}/api/v1/session`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ email: YARD_ACCOUNTS[0]?.email, password: YARD_PASSWORD }),
  });
  const { token } = (await reply.json()) as { token: string };
  const session = `${cookieNames(settings).session}=${token}`;
  const page = await fetch(`${url}/week`, { headers: { cookie: session } });
  const given = page.headers.getSetCookie().map((cookie) => cookie.split(';')[0]);
  return [session, ...given].join('; ');
}

/** Sends the statements in the page's order (who asks, then the rest at once), answers with the bytes, no more. */
async function bareServer(
  database: Database,
  statements: readonly Statement[],
  html: string,
): Promise<string> {
  const bare = fastify({ forceCloseConnections: true });
  bare.get('/week', async (_request, reply) => {
    const [session, ...rest] = statements;
    if (session !== undefined) await database.query(session.sql, session.values);
    await Promise.all(rest.map(({ sql, values }) => database.query(sql, values)));
    return reply.type('text/html; charset=utf-8').send(html);
  });
  closing.push(() => bare.close());
  return bare.listen({ host: '127.0.0.1', port: 0 });
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

const settings = readSettings({ NODE_ENV: 'test', LOG_LEVEL: 'silent' });
const closing: (() => Promise<unknown>)[] = [];

await withBenchDatabase(async (database) => {
  const now = new Date();
  await prepareInstallation(database, settings, now, null);
  await transact(database, (tx) => seedDemo(tx, now));
  const noted: Statement[] = [];
  const app = await buildApp({ settings, database: noting(database, noted), now: () => now });
  closing.push(() => app.close());
  const serviceUrl = await app.listen({ host: '127.0.0.1', port: 0 });
  const headers = { cookie: await cookiesOf(serviceUrl) };
  noted.length = 0;
  const html = await (await fetch(`${serviceUrl}/week`, { headers })).text();
  const bareUrl = await bareServer(database, [...noted], html);
  const client = loadClient();
  const rates: { readonly page: number; readonly bare: number }[] = [];
  for (let round = 0; round <= ROUNDS; round++) {
    const load = { headers, connections: CONNECTIONS, requests: REQUESTS_A_ROUND };
    const page = await client.run({ ...load, url: `${serviceUrl}/week` });
    const bare = await client.run({ ...load, url: `${bareUrl}/week` });
    // The first round warms connections, plans and code.
    if (round > 0) rates.push({ page: page.perSecond, bare: bare.perSecond });
  }
  await client.close();
  for (const close of closing) await close();
  const page = median(rates.map((rate) => rate.page));
  const bare = median(rates.map((rate) => rate.bare));
  process.stdout.write(
    `${noted.length > 0 ? Buffer.byteLength(html) : 0} bytes from ${new Set(noted.map(({ sql }) => sql)).size} statements\n` +
      `press week: ${page.toFixed(0)} a second, bare reply ${bare.toFixed(0)}, share ${(page / bare).toFixed(2)} (goal at least 0.5)\n`,
  );
});
