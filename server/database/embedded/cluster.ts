import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { access, chown, constants, mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { Binaries } from './binaries.js';
import { EmbeddedRefused } from './embedded-refused.js';
import { isAlive } from './postmaster-file.js';
import { runProgram } from './run-program.js';
import type { ServerUser } from './server-user.js';

/** What the data folder holds for PostgreSQL: all of it in one folder that only its owner may enter. */
export interface Cluster {
  readonly folder: string;
  readonly files: string;
  readonly passwordFile: string;
  readonly logFile: string;
  readonly ownerFile: string;
}

export const SUPERUSER = 'platenshare';

export function clusterIn(dataDir: string, name = 'postgres'): Cluster {
  const folder = join(dataDir, name);
  return {
    folder,
    files: join(folder, 'cluster'),
    passwordFile: join(folder, 'password'),
    logFile: join(folder, 'server.log'),
    ownerFile: join(folder, 'owner.json'),
  };
}

/** Errors of statements are the service's to tell; the server's own log keeps what concerns the server. */
const CONFIGURATION = {
  listen_addresses: '127.0.0.1',
  unix_socket_directories: '',
  log_min_messages: 'log',
  log_checkpoints: 'off',
  lc_messages: 'C',
  timezone: 'UTC',
  log_timezone: 'UTC',
} as const;

/**
 * Makes the cluster unless it is there. It is made beside its place and moved there whole, so that neither a
 * crash nor a second service that does the same leaves half of one.
 *
 * @throws EmbeddedRefused when the folder is another user's or `initdb` fails
 */
export async function ensureCluster(binaries: Binaries, user: ServerUser, cluster: Cluster): Promise<void> {
  const dataDir = dirname(cluster.folder);
  await makeFolder(dataDir);
  if (existsSync(cluster.folder)) return assertOurs(cluster.folder);
  await removeAbandoned(dataDir);
  const making = clusterIn(dataDir, `${MAKING}${process.pid}`);
  try {
    await initialise(binaries, user, making);
    await rename(making.folder, cluster.folder);
  } catch (error) {
    await rm(making.folder, { recursive: true, force: true });
    if (!existsSync(cluster.folder)) throw error;
  }
}

const MAKING = 'postgres-being-made-by-';

async function initialise(binaries: Binaries, user: ServerUser, making: Cluster): Promise<void> {
  await mkdir(making.folder, { mode: 0o700 });
  await writeFile(making.passwordFile, randomBytes(24).toString('base64url'), { mode: 0o600 });
  await writeFile(making.logFile, '', { mode: 0o600 });
  if (user.ids !== undefined) {
    for (const path of [dirname(making.folder), making.folder, making.passwordFile, making.logFile]) {
      await chown(path, user.ids.uid, user.ids.gid);
    }
  }
  const settings = Object.entries(CONFIGURATION).flatMap(([name, value]) => ['-c', `${name}=${value}`]);
  const fixed = ['--encoding=UTF8', '--locale-provider=builtin', '--builtin-locale=C.UTF-8', '--locale=C'];
  const access = ['--auth=scram-sha-256', `--username=${SUPERUSER}`, `--pwfile=${making.passwordFile}`];
  const args = [`--pgdata=${making.files}`, '--no-instructions', ...fixed, ...access, ...settings];
  if ((await runProgram(user, binaries.initdb, args, making.logFile)) !== 0) {
    throw new EmbeddedRefused(
      `A new database could not be made in ${dirname(making.folder)}:\n${await lastWords(making.logFile)}`,
    );
  }
}

async function makeFolder(dataDir: string): Promise<void> {
  try {
    await mkdir(dataDir, { recursive: true, mode: 0o700 });
    await access(dataDir, constants.R_OK | constants.W_OK | constants.X_OK);
  } catch (error) {
    throw new EmbeddedRefused(
      `The data folder ${dataDir} cannot be made or written. Give DATA_DIR a folder that this user owns.`,
      { cause: error },
    );
  }
}

async function assertOurs(folder: string): Promise<void> {
  try {
    await access(folder, constants.R_OK | constants.W_OK | constants.X_OK);
  } catch (error) {
    throw new EmbeddedRefused(
      `The database in ${folder} belongs to another user. Start the service as that user, or give DATA_DIR another folder.`,
      { cause: error },
    );
  }
}

/** Clusters that a service was making when it was killed. */
async function removeAbandoned(dataDir: string): Promise<void> {
  for (const name of await readdir(dataDir)) {
    const maker = name.startsWith(MAKING) ? Number(basename(name).slice(MAKING.length)) : undefined;
    if (maker === undefined || isAlive(maker)) continue;
    await rm(join(dataDir, name), { recursive: true, force: true });
  }
}

/** The end of PostgreSQL's log, for a message. */
export async function lastWords(logFile: string): Promise<string> {
  const text = await readFile(logFile, 'utf8').catch(() => '(it left no log)');
  return text.trimEnd().split('\n').slice(-8).join('\n');
}
