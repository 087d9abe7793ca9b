import { build } from './build.mjs';
import { installed, runNode } from './run.mjs';

/** Everything that can be known about the code without running it; all of it is tried, then what failed is named. */
const CHECKS = {
  'types (tsc)': [installed('typescript/bin/tsc'), '--noEmit', '-p', '.'],
  'form and habits (biome)': [installed('@biomejs/biome/bin/biome'), 'check', '--error-on-warnings', '.'],
  'directions of imports (dependency-cruiser)': [
    installed('dependency-cruiser/bin/dependency-cruise.mjs'),
    ...['--config', 'server/dependency-rules.mjs', 'server', 'prisma'],
  ],
  'unused files, exports and packages (knip)': [installed('knip/bin/knip.js')],
};

// The generated client is part of what is checked.
const failed = (await build()) ? [] : ['build'];
for (const [name, args] of Object.entries(CHECKS)) {
  process.stdout.write(`\n— ${name}\n`);
  if ((await runNode(args)) !== 0) failed.push(name);
}
process.stdout.write(
  failed.length === 0 ? '\nAll checks hold.\n' : `\nThese checks fail: ${failed.join('; ')}\n`,
);
process.exitCode = failed.length === 0 ? 0 : 1;
