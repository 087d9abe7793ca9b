import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { watch } from 'node:fs';
import { join } from 'node:path';
import { build } from './build.mjs';
import { PROJECT } from './run.mjs';

const WATCHED = ['server', 'prisma', 'templates', 'public'];
/** Editors save in several steps. */
const SETTLE_MS = 150;

let service;
let timer;
let turn = Promise.resolve();

for (const folder of WATCHED) {
  watch(join(PROJECT, folder), { recursive: true }, (_event, name) => {
    if (String(name).includes('generated')) return;
    clearTimeout(timer);
    timer = setTimeout(again, SETTLE_MS);
  });
}
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
  process.on(signal, async () => {
    await turn.then(stop);
    process.exit(0);
  });
}
again();

/** One rebuild and restart after another; the old service stays up while the new one does not compile. */
function again() {
  turn = turn.then(async () => {
    if (!(await build())) return;
    await stop();
    service = spawn(process.execPath, ['--enable-source-maps', join(PROJECT, 'dist/server/main.js')], {
      cwd: PROJECT,
      stdio: 'inherit',
      detached: process.platform !== 'win32',
    });
  });
}

async function stop() {
  if (service === undefined || service.exitCode !== null || service.signalCode !== null) return;
  service.kill('SIGTERM');
  await once(service, 'exit');
}
