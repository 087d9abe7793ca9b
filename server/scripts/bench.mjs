import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { build } from './build.mjs';
import { installed, PROJECT, runNode } from './run.mjs';

/** Compiles and runs tests/bench/*.bench.ts one after another; with arguments, those whose name holds one of them. */
const wanted = process.argv.slice(2);

async function bench() {
  if (!(await build())) return false;
  if ((await runNode([installed('typescript/bin/tsc'), '-p', 'tests/bench/tsconfig.json'])) !== 0)
    return false;
  const files = (await readdir(join(PROJECT, 'tests', 'bench')))
    .filter((name) => name.endsWith('.bench.ts'))
    .filter((name) => wanted.length === 0 || wanted.some((part) => name.includes(part)));
  let allRan = true;
  for (const file of files.sort()) {
    process.stdout.write(`\n— ${file}\n`);
    const compiled = join(PROJECT, 'dist', 'tests', 'bench', file.replace(/\.ts$/, '.js'));
    if ((await runNode([compiled])) !== 0) allRan = false;
  }
  return allRan;
}

process.exitCode = (await bench()) ? 0 : 1;
