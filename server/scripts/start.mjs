import { build } from './build.mjs';

stopWithNpm();
if (process.argv.includes('--watch')) {
  await import('./watch.mjs');
} else if (await build()) {
  // In this same process: signals and exit code are the service's own, and nothing stands between to outlive it.
  await import('../../dist/server/main.js');
} else {
  process.exitCode = 1;
}

/** npm hands a signal to the shell it runs this in, and the shell ends without handing it on: its end is the signal. */
function stopWithNpm() {
  if (!process.env.npm_lifecycle_event) return;
  const parent = process.ppid;
  const look = setInterval(() => {
    if (process.ppid === parent) return;
    clearInterval(look);
    process.kill(process.pid, 'SIGTERM');
  }, 250);
  look.unref();
}
