import { spawn } from 'node:child_process';
import { open } from 'node:fs/promises';
import type { ServerUser } from './server-user.js';

/**
 * Runs one of PostgreSQL's programs to its end, its words going to `logFile`. The log is a file and not a pipe:
 * the server that `pg_ctl start` leaves behind would hold a pipe open for ever.
 *
 * @returns the exit code
 */
export async function runProgram(
  user: ServerUser,
  program: string,
  args: readonly string[],
  logFile: string,
): Promise<number> {
  const log = await open(logFile, 'a', 0o600);
  try {
    const [command = program, ...rest] = [...user.prefix, program, ...args];
    const child = spawn(command, rest, {
      stdio: ['ignore', log.fd, log.fd],
      env: programEnvironment(),
      windowsHide: true,
      ...user.ids,
    });
    return await new Promise((ended, failed) => {
      child.once('error', failed);
      child.once('exit', (code) => ended(code ?? 1));
    });
  } finally {
    await log.close();
  }
}

/** The present environment without `PGPORT` and its kin, which would steer PostgreSQL's programs elsewhere. */
function programEnvironment(): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) => !name.toUpperCase().startsWith('PG'));
  return { ...Object.fromEntries(kept), LC_ALL: 'C', TZ: 'UTC' };
}
