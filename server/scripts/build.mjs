import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { installed, PROJECT, runNode } from './run.mjs';

const DIST = join(PROJECT, 'dist');
const STAMP = join(DIST, '.built.json');
const GENERATED = join(PROJECT, 'server', 'database', 'generated');

/**
 * Prisma's client from the schema, then JavaScript from TypeScript, both into places that git ignores.
 * Does nothing when nothing changed since the last time; gives whether the build stands.
 */
export async function build() {
  const now = await fingerprint();
  const last = await lastBuild();
  if (last !== undefined && last.all === now.all) return true;
  await rm(STAMP, { force: true });
  if (last?.schema !== now.schema || !(await exists(GENERATED))) {
    if (!(await generateClient())) return false;
  }
  // Nobody knows what stands there: all of it is written again.
  if (last === undefined) await rm(join(DIST, '.tsbuildinfo'), { force: true });
  await removeWithoutSource('server');
  await removeWithoutSource('prisma');
  if ((await runNode([installed('typescript/bin/tsc'), '-p', 'server/tsconfig.build.json'])) !== 0)
    return false;
  await mkdir(DIST, { recursive: true });
  await writeFile(STAMP, JSON.stringify(now));
  return true;
}

/** Takes away what was compiled from a source that is gone, and nothing that a running service may still load. */
async function removeWithoutSource(folder) {
  const found = join(DIST, folder);
  if (!(await exists(found))) return;
  for (const path of await filesUnder(found)) {
    const source = join(PROJECT, relative(DIST, path)).replace(/\.js(\.map)?$/, '.ts');
    if (!(await exists(source))) await rm(path, { force: true });
  }
}

/**
 * Generating needs no schema engine, but Prisma's command line wants to download one before anything else. It is
 * told of a program that always fails: with one that always succeeds, other commands would claim to have worked.
 */
async function generateClient() {
  const failing = process.platform === 'win32' ? process.execPath : '/bin/false';
  const code = await runNode(
    [installed('prisma/build/index.js'), 'generate', '--config', 'prisma/prisma.config.ts', '--no-hints'],
    { PRISMA_SCHEMA_ENGINE_BINARY: failing, CHECKPOINT_DISABLE: '1', PRISMA_HIDE_UPDATE_MESSAGE: '1' },
  );
  return code === 0;
}

/** What the build depends on: every source by name, size and time, and the schema by its text. */
async function fingerprint() {
  const marks = createHash('sha256');
  for (const root of ['server', 'prisma', 'tsconfig.json', 'package-lock.json']) {
    for (const path of await filesUnder(join(PROJECT, root))) {
      const { size, mtimeMs } = await stat(path);
      marks.update(`${path}\0${size}\0${mtimeMs}\0`);
    }
  }
  const schema = createHash('sha256')
    .update(await readFile(join(PROJECT, 'prisma', 'schema.prisma')))
    .update(await readFile(join(PROJECT, 'package-lock.json')));
  return { all: marks.digest('hex'), schema: schema.digest('hex') };
}

async function filesUnder(path) {
  if (path === GENERATED) return [];
  if (!(await stat(path)).isDirectory()) return [path];
  const names = await readdir(path);
  return (await Promise.all(names.sort().map((name) => filesUnder(join(path, name))))).flat();
}

async function lastBuild() {
  try {
    return JSON.parse(await readFile(STAMP, 'utf8'));
  } catch {
    return undefined;
  }
}

function exists(path) {
  return stat(path).then(
    () => true,
    () => false,
  );
}

if (process.argv[1] === import.meta.filename) process.exitCode = (await build()) ? 0 : 1;
