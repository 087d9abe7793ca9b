import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import pg from 'pg';
import { expect, it } from 'vitest';
import { embeddedUrl, newDataDir, postmaster, processesIn } from '../support/data-folder.js';
import { startService } from '../support/service.js';

const ROUNDS = 10;

/** Writes one row after another until the connection breaks; gives how many were confirmed. */
function writer(url: string, round: number) {
  const client = new pg.Client({ connectionString: url });
  client.on('error', () => {});
  let confirmed = 0;
  const done = (async () => {
    await client.connect();
    try {
      for (;;) {
        await client.query('insert into kept values ($1, $2)', [round, confirmed]);
        confirmed += 1;
      }
    } catch {
      return confirmed;
    } finally {
      await client.end().catch(() => {});
    }
  })();
  return { done, confirmed: () => confirmed, stop: () => client.end() };
}

async function query(url: string, sql: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

it('keeps every confirmed row through ten kills of the service, every second one with PostgreSQL itself', async () => {
  const dataDir = await newDataDir();
  const confirmed: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const service = await startService({ DATA_DIR: dataDir });
    const url = await embeddedUrl(dataDir);
    if (round === 0) await query(url, 'create table kept (round int, place int, primary key (round, place))');
    const before = await postmaster(dataDir);
    const writing = writer(url, round);
    await expect.poll(writing.confirmed).toBeGreaterThan(20);
    await service.end('SIGKILL');
    const withPostgres = round % 2 === 1;
    if (withPostgres) process.kill(before.pid, 'SIGKILL');
    else await writing.stop();
    confirmed.push(await writing.done);
    if (withPostgres) await expect.poll(() => processesIn(dataDir), { timeout: 20_000 }).toEqual([]);
    else expect(await postmaster(dataDir)).toEqual(before);
  }
  const service = await startService({ DATA_DIR: dataDir });
  const rows = await query(
    await embeddedUrl(dataDir),
    'select round, count(*)::int as rows, max(place) + 1 as upto from kept group by round order by round',
  );
  expect(rows.map((row) => row.round)).toEqual(confirmed.map((_count, round) => round));
  for (const [round, row] of rows.entries()) {
    // The row under way when the connection broke may be there too, unconfirmed.
    expect([confirmed[round], (confirmed[round] ?? 0) + 1]).toContain(row.rows);
    expect(row.upto).toBe(row.rows);
  }
  expect(await service.end('SIGTERM')).toBe(0);
});

it('adopts the PostgreSQL that a killed service left running', async () => {
  const dataDir = await newDataDir();
  const first = await startService({ DATA_DIR: dataDir });
  const before = await postmaster(dataDir);
  await first.end('SIGKILL');
  const second = await startService({ DATA_DIR: dataDir });
  expect(await postmaster(dataDir)).toEqual(before);
  await second.end('SIGTERM');
});

it('stops, saying why, when its PostgreSQL is gone for good', async () => {
  const dataDir = await newDataDir();
  const service = await startService({ DATA_DIR: dataDir });
  process.kill((await postmaster(dataDir)).pid, 'SIGKILL');
  expect(await service.ended).toBe(1);
  expect(service.output()).toContain('The embedded PostgreSQL stopped and did not come back');
  expect(await processesIn(dataDir)).toEqual([]);
});

it('starts although the machine crashed and the process number on file is by now somebody else’s', async () => {
  const dataDir = await newDataDir();
  const first = await startService({ DATA_DIR: dataDir });
  const { pid } = await postmaster(dataDir);
  const file = join(dataDir, 'postgres', 'cluster', 'postmaster.pid');
  const asItWas = await readFile(file, 'utf8');
  await first.end('SIGKILL');
  process.kill(pid, 'SIGKILL');
  await expect.poll(() => processesIn(dataDir), { timeout: 20_000 }).toEqual([]);
  await writeFile(file, asItWas.replace(String(pid), String(process.pid)));
  const second = await startService({ DATA_DIR: dataDir });
  expect((await fetch(`${second.url}/health/ready`)).status).toBe(200);
  await second.end('SIGTERM');
});
