import { execFile } from 'node:child_process';
import { readFile, readlink, realpath, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';

/** What PostgreSQL writes into `postmaster.pid` while it runs, as far as it matters here. */
export interface Postmaster {
  readonly pid: number;
  readonly port: number;
  readonly ready: boolean;
}

/**
 * Reads `postmaster.pid`; undefined when there is none or it is still being written. The lines are process,
 * data folder, start time, port, socket folder, address, shared memory, status (PostgreSQL 18, `miscadmin.h`).
 */
export async function readPostmaster(clusterFiles: string): Promise<Postmaster | undefined> {
  const text = await readFile(join(clusterFiles, 'postmaster.pid'), 'utf8').catch(() => '');
  const [pid, , , port, , , , status] = text.split('\n');
  if (!Number(pid) || !Number(port)) return undefined;
  return { pid: Number(pid), port: Number(port), ready: status?.trim() === 'ready' };
}

/**
 * After a crash of the machine the file names a process number that may by now be anybody's; PostgreSQL then
 * refuses to start. The file goes only when that process is alive and certainly not this cluster's PostgreSQL; if
 * it is dead, PostgreSQL clears the file itself after its own checks.
 */
export async function removeStalePostmaster(clusterFiles: string): Promise<void> {
  const postmaster = await readPostmaster(clusterFiles);
  if (postmaster === undefined || !isAlive(postmaster.pid)) return;
  if (await mayServe(postmaster.pid, clusterFiles)) return;
  await rm(join(clusterFiles, 'postmaster.pid'), { force: true });
}

/** True also when in doubt. PostgreSQL works inside its cluster's folder, which Linux shows. */
async function mayServe(pid: number, clusterFiles: string): Promise<boolean> {
  try {
    if (process.platform === 'linux') {
      return (await readlink(`/proc/${pid}/cwd`)) === (await realpath(clusterFiles));
    }
    const [program, args] =
      process.platform === 'win32'
        ? (['tasklist', ['/FI', `PID eq ${pid}`, '/NH']] as const)
        : (['ps', ['-o', 'command=', '-p', String(pid)]] as const);
    return (await promisify(execFile)(program, [...args])).stdout.includes('postgres');
  } catch {
    return true;
  }
}

/** Whether there is a process of this number, ours or not. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
