import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from './build.mjs';
import { findChromium, HOW_TO_GET_CHROMIUM } from './chromium.mjs';
import { installed, runNode } from './run.mjs';

const passedOn = process.argv.slice(2);
const folder = await mkdtemp(join(tmpdir(), 'platenshare-test-'));
const resultFile = join(folder, 'result.json');
let outcome = { passed: 0, failed: 1 };

if (await build()) {
  const vitest = [installed('vitest/vitest.mjs'), 'run', '--config', 'tests/vitest.config.ts'];
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${resultFile}`];
  const exitCode = await runNode([...vitest, ...reporters, ...passedOn]);
  outcome = await readOutcome(exitCode);
}
await rm(folder, { recursive: true, force: true });

if (findChromium() === undefined) {
  say(`\nNo Chromium was found: the browser tests were NOT run. ${HOW_TO_GET_CHROMIUM}`);
  if (process.env.CI) {
    say('CI is set, so this counts as a failure.');
    outcome.failed += 1;
  }
}
say(`\n${outcome.passed} passed, ${outcome.failed} failed`);
process.exitCode = outcome.failed === 0 ? 0 : 1;

/** Counts from the runner's own report; a file that could not be read, or a fault outside any test, is a failure. */
async function readOutcome(exitCode) {
  const report = await readFile(resultFile, 'utf8').then(JSON.parse, () => undefined);
  if (report === undefined) return { passed: 0, failed: 1 };
  const brokenFiles = report.testResults.filter(
    ({ status, assertionResults }) =>
      status === 'failed' && assertionResults.every((test) => test.status !== 'failed'),
  );
  const failed = report.numFailedTests + brokenFiles.length;
  return { passed: report.numPassedTests, failed: exitCode === 0 ? failed : Math.max(failed, 1) };
}

function say(sentence) {
  process.stdout.write(`${sentence}\n`);
}
