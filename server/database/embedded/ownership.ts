import { readFile, rm, writeFile } from 'node:fs/promises';
import { setTimeout as sleep } from 'node:timers/promises';
import pg from 'pg';
import { z } from 'zod';
import type { Cluster } from './cluster.js';
import { EmbeddedRefused } from './embedded-refused.js';

/**
 * Who may use the embedded server. PostgreSQL outlives a killed service, so that it runs says nothing; the owner is
 * whoever holds this advisory lock on a connection that lives as long as the service.
 */
const OWNER_LOCK = 7_283_190_442;

/** A killed owner's connection needs a moment to be noticed. */
const PATIENCE_MS = 4000;
const PAUSE_MS = 100;
/** PostgreSQL comes back from the crash of one of its processes by itself, and drops all connections for it. */
const COMES_BACK_WITHIN_MS = 10_000;

export interface Ownership {
  /** Tells a second service on the same folder where this one is. */
  announce(address: string): Promise<void>;
  /** From here on the loss of the connection is expected, and the address no longer told. */
  stepDown(): Promise<void>;
  release(): Promise<void>;
}

/**
 * Takes the cluster for this process, and takes it again when the connection is lost.
 *
 * @param onLost called when it cannot be had again; the service must stop
 * @throws EmbeddedRefused naming the service that has it
 */
export async function takeOwnership(
  cluster: Cluster,
  maintenanceUrl: string,
  onLost: (error: Error) => void,
): Promise<Ownership> {
  let steppedDown = false;
  let connection = await takeLock(cluster, maintenanceUrl, PATIENCE_MS, watch);
  await writeOwner(cluster, undefined);

  function watch(): void {
    if (steppedDown) return;
    takeAgain().catch(onLost);
  }

  async function takeAgain(): Promise<void> {
    const giveUpAt = Date.now() + COMES_BACK_WITHIN_MS;
    for (;;) {
      await sleep(PAUSE_MS);
      try {
        connection = await takeLock(cluster, maintenanceUrl, PATIENCE_MS, watch);
        return;
      } catch (error) {
        if (steppedDown) return;
        if (error instanceof EmbeddedRefused) throw error;
        if (Date.now() > giveUpAt) throw goneForGood(cluster, error);
      }
    }
  }

  return {
    announce: (address) => writeOwner(cluster, address),
    async stepDown() {
      steppedDown = true;
      await rm(cluster.ownerFile, { force: true });
    },
    release: () => connection.end().catch(() => {}),
  };
}

function goneForGood(cluster: Cluster, cause: unknown): EmbeddedRefused {
  return new EmbeddedRefused(
    `The embedded PostgreSQL stopped and did not come back; its log ${cluster.logFile} may say why. ` +
      'Start the service again: PostgreSQL recovers what was committed.',
    { cause },
  );
}

async function takeLock(
  cluster: Cluster,
  maintenanceUrl: string,
  patienceMs: number,
  onEnd: () => void,
): Promise<pg.Client> {
  const client = new pg.Client({
    connectionString: maintenanceUrl,
    application_name: 'platenshare owner',
    keepAlive: true,
    connectionTimeoutMillis: 5000,
  });
  client.on('error', () => {});
  await client.connect();
  const giveUpAt = Date.now() + patienceMs;
  try {
    while (!(await tryLock(client))) {
      if (Date.now() > giveUpAt) throw await refusal(cluster);
      await sleep(PAUSE_MS);
    }
  } catch (error) {
    await client.end().catch(() => {});
    throw error;
  }
  client.once('end', onEnd);
  return client;
}

async function tryLock(client: pg.Client): Promise<boolean> {
  const { rows } = await client.query<{ taken: boolean }>('select pg_try_advisory_lock($1) as taken', [
    OWNER_LOCK,
  ]);
  return rows[0]?.taken === true;
}

const owner = z.object({ pid: z.number(), address: z.string().optional() });

async function writeOwner(cluster: Cluster, address: string | undefined): Promise<void> {
  await writeFile(cluster.ownerFile, JSON.stringify({ pid: process.pid, address }), { mode: 0o600 });
}

async function refusal(cluster: Cluster): Promise<EmbeddedRefused> {
  const text = await readFile(cluster.ownerFile, 'utf8').catch(() => '');
  const found = owner.safeParse(parsedJson(text)).data;
  const who = found === undefined ? 'another process' : `process ${found.pid}`;
  const where =
    found?.address === undefined ? 'a service that is still starting' : `the service at ${found.address}`;
  return new EmbeddedRefused(
    `The data in ${cluster.folder} is in use by ${where} (${who}). Use that one, or stop it first; to run a second, ` +
      'separate service, give it another DATA_DIR and PORT. Several processes may share one database through DATABASE_URL.',
  );
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
