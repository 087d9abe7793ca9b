import { setTimeout as sleep } from 'node:timers/promises';
import { YARD_ACCOUNTS, YARD_PASSWORD } from '../prisma/demo/gullwing-yard.js';
import { seedDemo } from '../prisma/demo/seed-demo.js';
import { buildApp } from './app.js';
import { openDatabase } from './database/database.js';
import { DatabaseUnreachable } from './database/database-unreachable.js';
import { EmbeddedRefused } from './database/embedded/embedded-refused.js';
import { startEmbedded } from './database/embedded/start.js';
import { MigrationRefused, migrate } from './database/migrate.js';
import { layFirstContents } from './inductions/first-contents.js';
import { InstallationRefused, prepareInstallation } from './members/installation.js';
import { readSettings, SettingsRefused } from './settings.js';

/** Told to the operator as it stands; anything else is a fault of ours and comes with its stack. */
const TOLD_PLAINLY = [
  SettingsRefused,
  EmbeddedRefused,
  DatabaseUnreachable,
  MigrationRefused,
  InstallationRefused,
] as const;

/** How long requests under way may take, once the process is told to stop. */
const DRAIN_MS = 8000;

/** What runs, in the order it was started; it is stopped backwards, also from the middle of a start. */
const running: (() => Promise<void>)[] = [];
let stopping = false;

for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP'] as const) process.on(signal, () => void stop(0));
process.on('unhandledRejection', fail);
process.on('uncaughtException', fail);

const starting = start();
starting.catch(fail);

async function start(): Promise<void> {
  const settings = readSettings(process.env);
  let databaseUrl = settings.databaseUrl;
  let announce = async (_address: string): Promise<void> => {};
  if (databaseUrl === undefined) {
    const embedded = await startEmbedded(settings.dataDir, fail);
    running.push(embedded.stop);
    ({ databaseUrl, announce } = embedded);
  }
  await migrate(databaseUrl);
  const database = await openDatabase(databaseUrl, (error) => {
    if (!stopping) tell(`A connection was lost: ${error.message}`);
  });
  running.push(database.close);
  const installation = await prepareInstallation(database, settings, new Date(), seedDemo);
  await layFirstContents(database, new Date());
  const app = await buildApp({ settings, database, now: () => new Date() });
  running.push(() => Promise.race([app.close(), sleep(DRAIN_MS)]));
  const listening = await app.listen({ host: settings.host, port: settings.port });
  const address = settings.publicUrl ?? listening;
  await announce(address);
  process.stdout.write(`Platenshare is open at ${address}\n`);
  if (installation.demo) {
    const emails = YARD_ACCOUNTS.map(({ email }) => email).join(', ');
    process.stdout.write(`It shows the demo. Sign in as ${emails}; password ${YARD_PASSWORD}\n`);
  }
  if (installation.firstRunPath !== undefined) {
    process.stdout.write(`Set it up here, once: ${address}${installation.firstRunPath}\n`);
  }
}

function fail(error: unknown): void {
  const plain = TOLD_PLAINLY.some((kind) => error instanceof kind);
  tell(plain ? (error as Error).message : stackOf(error));
  void stop(1);
}

async function stop(exitCode: number): Promise<void> {
  if (stopping) return;
  stopping = true;
  await Promise.race([starting.catch(() => {}), sleep(DRAIN_MS)]);
  for (const stopOne of running.reverse()) {
    await stopOne().catch((error) => tell(stackOf(error)));
  }
  process.exit(exitCode);
}

function tell(sentence: string): void {
  process.stderr.write(`${sentence}\n`);
}

function stackOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const listenFault = 'code' in error && error.code === 'EADDRINUSE';
  if (listenFault) return `${error.message}. Another program listens there; set PORT to a free one.`;
  const cause = error.cause === undefined ? '' : `\nbecause of ${stackOf(error.cause)}`;
  return `${error.stack ?? error.message}${cause}`;
}
