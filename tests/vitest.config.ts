import { join } from 'node:path';
import { configDefaults, defineConfig } from 'vitest/config';
import { findChromium } from '../server/scripts/chromium.mjs';

/** Tests that need a browser are named so; without one they are left out, and `npm test` says so at its end. */
const BROWSER_TESTS = 'tests/**/*.browser.test.ts';

export default defineConfig({
  root: join(import.meta.dirname, '..'),
  cacheDir: 'node_modules/.vitest',
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: [...configDefaults.exclude, ...(findChromium() === undefined ? [BROWSER_TESTS] : [])],
    globalSetup: 'tests/support/database-server.ts',
    setupFiles: 'tests/support/one-query-at-a-time.ts',
    pool: 'forks',
    maxWorkers: 2,
    testTimeout: 180_000,
    hookTimeout: 180_000,
  },
});
