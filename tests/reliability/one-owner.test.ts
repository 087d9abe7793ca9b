import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { newDataDir, postmaster, processesIn } from '../support/data-folder.js';
import { runToItsEnd, startService } from '../support/service.js';

it('refuses a second service on the same folder, naming the first and what to do; the first goes on', async () => {
  const dataDir = await newDataDir();
  const first = await startService({ DATA_DIR: dataDir });
  const second = await runToItsEnd({ DATA_DIR: dataDir });
  expect(second.exitCode).toBe(1);
  expect(second.output).toContain(`in use by the service at ${first.url} (process ${first.pid})`);
  expect(second.output).toContain('another DATA_DIR');
  expect(second.output).not.toMatch(/^\s+at /m);
  expect((await fetch(`${first.url}/health/ready`)).status).toBe(200);
  await first.end('SIGTERM');
});

it('lets one of two that start together have the folder', async () => {
  const dataDir = await newDataDir();
  const both = await Promise.allSettled([1, 2].map(() => startService({ DATA_DIR: dataDir })));
  const open = both.flatMap((one) => (one.status === 'fulfilled' ? [one.value] : []));
  const refused = both.flatMap((one) => (one.status === 'rejected' ? [String(one.reason)] : []));
  expect(open).toHaveLength(1);
  expect(refused[0]).toContain(`The data in ${join(dataDir, 'postgres')} is in use by`);
  const owner = JSON.parse(await readFile(join(dataDir, 'postgres', 'owner.json'), 'utf8'));
  expect(owner.pid).toBe(open[0]?.pid);
  await open[0]?.end('SIGTERM');
  expect(await processesIn(dataDir)).toEqual([]);
});

it('gives the folder to the next one when the first has stopped', async () => {
  const dataDir = await newDataDir();
  const first = await startService({ DATA_DIR: dataDir });
  const stopped = first.end('SIGTERM');
  const second = await startService({ DATA_DIR: dataDir });
  expect(await stopped).toBe(0);
  expect((await postmaster(dataDir)).pid).toBeGreaterThan(0);
  expect((await fetch(`${second.url}/health/ready`)).status).toBe(200);
  await second.end('SIGTERM');
});
