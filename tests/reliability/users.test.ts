import { spawnSync } from 'node:child_process';
import { chmod, chown, mkdir, mkdtemp, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { afterwards } from '../support/afterwards.js';
import { newDataDir, processesIn } from '../support/data-folder.js';
import { runToItsEnd, startService } from '../support/service.js';

const NOBODY = 65534;
const AS_NOBODY = ['setpriv', `--reuid=${NOBODY}`, `--regid=${NOBODY}`, '--clear-groups'];

const isRoot = process.getuid?.() === 0;
const nobodyReaches = (path: string) =>
  spawnSync(AS_NOBODY[0] as string, [...AS_NOBODY.slice(1), 'test', '-r', path]).status === 0;
/** What follows changes users, which takes root, and a project folder that others may read. */
const canChangeUsers =
  isRoot && nobodyReaches(join(PROJECT_FOLDER, 'package.json')) && nobodyReaches(process.execPath);

/** A folder that everybody may pass through. */
async function openFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'platenshare-open-'));
  await chmod(folder, 0o755);
  afterwards(() => rm(folder, { recursive: true, force: true }));
  return folder;
}

async function uidOf(pid: number): Promise<number> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8');
  return Number(/^Uid:\s+(\d+)/m.exec(status)?.[1]);
}

describe.runIf(isRoot)('as root', () => {
  it('runs PostgreSQL below a folder that only root can enter', async () => {
    const dataDir = await newDataDir();
    const service = await startService({ DATA_DIR: dataDir });
    expect((await stat(join(dataDir, 'postgres', 'cluster'))).uid).toBe(0);
    expect(await service.end('SIGTERM')).toBe(0);
    expect(await processesIn(dataDir)).toEqual([]);
  });
});

describe.runIf(canChangeUsers)('as root, with other users at hand', () => {
  it('an ordinary user starts and stops it', async () => {
    const folder = await openFolder();
    const dataDir = join(folder, 'theirs', 'data');
    await mkdir(join(folder, 'theirs'));
    await chown(join(folder, 'theirs'), NOBODY, NOBODY);
    const service = await startService({ DATA_DIR: dataDir }, { prefix: AS_NOBODY });
    expect(await uidOf(service.pid)).toBe(NOBODY);
    expect((await fetch(`${service.url}/health/ready`)).status).toBe(200);
    expect(await service.end('SIGTERM')).toBe(0);
    expect(await processesIn(dataDir)).toEqual([]);
  });

  it('root goes on with the data of an ordinary user, and leaves them theirs', async () => {
    const folder = await openFolder();
    const dataDir = join(folder, 'theirs', 'data');
    await mkdir(join(folder, 'theirs'));
    await chown(join(folder, 'theirs'), NOBODY, NOBODY);
    const theirs = await startService({ DATA_DIR: dataDir }, { prefix: AS_NOBODY });
    await theirs.end('SIGTERM');
    const roots = await startService({ DATA_DIR: dataDir });
    expect(await roots.end('SIGTERM')).toBe(0);
    expect((await stat(join(dataDir, 'postgres', 'cluster'))).uid).toBe(NOBODY);
    const again = await startService({ DATA_DIR: dataDir }, { prefix: AS_NOBODY });
    expect(await again.end('SIGTERM')).toBe(0);
  });

  it('an ordinary user is told that the data are root’s', async () => {
    const dataDir = join(await openFolder(), 'data');
    const roots = await startService({ DATA_DIR: dataDir });
    await roots.end('SIGTERM');
    await chmod(dataDir, 0o755);
    const theirs = await runToItsEnd({ DATA_DIR: dataDir }, { prefix: AS_NOBODY });
    expect(theirs.exitCode).toBe(1);
    expect(theirs.output).toMatch(/cannot be made or written|belongs to another user/);
  });

  it('without user namespaces PostgreSQL runs as another account that can reach the folder', async () => {
    const dataDir = join(await openFolder(), 'data');
    const service = await startService({ DATA_DIR: dataDir, PATH: '/nowhere' });
    expect((await stat(join(dataDir, 'postgres', 'cluster'))).uid).not.toBe(0);
    expect(await service.end('SIGTERM')).toBe(0);
    expect(await processesIn(dataDir)).toEqual([]);
  });

  it('without user namespaces and without such an account it says what to do', async () => {
    const dataDir = await newDataDir();
    const { exitCode, output } = await runToItsEnd({ DATA_DIR: dataDir, PATH: '/nowhere' });
    expect(exitCode).toBe(1);
    expect(output).toContain('PostgreSQL does not run as root.');
    expect(output).toContain('set DATABASE_URL');
  });
});
