import { build } from './build.mjs';

if (process.argv.includes('--watch')) {
  await import('./watch.mjs');
} else if (await build()) {
  // In this same process: signals and exit code are the service's own, and nothing stands between to outlive it.
  await import('../dist/server/main.js');
} else {
  process.exitCode = 1;
}
