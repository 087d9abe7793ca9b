import fastify from 'fastify';
import { buildApp } from '../../server/app.js';
import { prepareInstallation } from '../../server/members/installation.js';
import { readSettings } from '../../server/settings.js';
import { addRules } from '../../server/shop/store.js';
import { withBenchDatabase } from '../support/bench-database.js';
import { furnishPress, gullwingRules } from '../support/gullwing-house.js';
import { loadClient } from '../support/http-load.js';
import { leastCheck, undisturbed } from '../support/least-check.js';
import { plateBody } from '../support/plate-bodies.js';

/**
 * A plate check over HTTP for one client who is not signed in, against a bare server that takes the same body and
 * answers with the same bytes, and against the least any check must do (`leastCheck`), in this thread. All warm, in
 * turns, in one run; what a tenth of the requests stay under is told.
 */
const ROUNDS = 10;
const REQUESTS_A_ROUND = 60;

const now = new Date();
const limits = { SIGNED_OUT_CHECKS_PER_MINUTE: '100000' };
const settings = readSettings({ NODE_ENV: 'test', LOG_LEVEL: 'silent', ...limits });

/** Takes any JSON and answers with these bytes. */
async function bareServer(json: string) {
  const bare = fastify({ bodyLimit: 1e6 });
  bare.post('/', async (_request, reply) => reply.type('application/json; charset=utf-8').send(json));
  const url = await bare.listen({ host: '127.0.0.1', port: 0 });
  return { url, close: () => bare.close() };
}

function timeOf(work: () => unknown): number {
  const began = performance.now();
  work();
  return performance.now() - began;
}

await withBenchDatabase(async (database) => {
  await prepareInstallation(database, settings, now, null);
  await addRules(database, gullwingRules, now, null);
  await furnishPress(database, now);
  const app = await buildApp({ settings, database, now: () => now });
  const url = `${await app.listen({ host: '127.0.0.1', port: 0 })}/api/v1/checks`;
  const client = loadClient();
  for (const sample of ['tile-spacer-4up', 'board-counter-8up']) {
    const plate = plateBody(sample);
    const body = JSON.stringify({ plate, resin: { polymer: 'PP' } });
    const headers = { 'content-type': 'application/json' };
    const json = await (await fetch(url, { method: 'POST', headers, body })).text();
    const bare = await bareServer(json);
    const least = leastCheck(plate.dxf);
    const load = { headers: {}, connections: 1, requests: REQUESTS_A_ROUND, body };
    const times = { check: [] as number[], bare: [] as number[], least: [] as number[] };
    for (let round = 0; round < 2 * ROUNDS; round++) {
      const check = await client.run({ ...load, url });
      const reply = await client.run({ ...load, url: bare.url });
      const work = Array.from({ length: REQUESTS_A_ROUND }, () => timeOf(least));
      // The first half warms connections, plans and code.
      if (round < ROUNDS) continue;
      times.check.push(...check.timesMs);
      times.bare.push(...reply.timesMs);
      times.least.push(...work);
    }
    await bare.close();
    const [check, bareMs, leastMs] = [times.check, times.bare, times.least].map(undisturbed) as [
      number,
      number,
      number,
    ];
    process.stdout.write(
      `${sample}, ${Buffer.byteLength(json)} bytes: check over HTTP ${check.toFixed(2)} ms; ` +
        `bare reply ${bareMs.toFixed(2)} ms, ratio ${(check / bareMs).toFixed(2)}; ` +
        `parse and one union ${leastMs.toFixed(2)} ms, ratio ${(check / leastMs).toFixed(2)}\n`,
    );
  }
  await client.close();
  await app.close();
});
