import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { measureDxf } from '../../server/engineering/drawing/measure-drawing.js';
import { checkPlate } from '../../server/engineering/plate-check.js';
import { findPolymer } from '../../server/engineering/polymers/polymers.js';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { wordReport } from '../../server/words/index.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../support/gullwing.js';
import { leastCheck, undisturbed } from '../support/least-check.js';

/**
 * A whole plate check (read, measure, place, all findings, report as JSON) against the least any such check must do
 * (`leastCheck`). Both warm, in one process, taking turns.
 * The goal for tile-spacer-4up is a ratio of 3.
 */
const ROUNDS = 200;
const WARM_UP = 300;

const polymer = findPolymer('PP');
if (polymer === null) throw new Error('no PP');

for (const name of ['tile-spacer-4up', 'board-counter-8up']) {
  const dxf = readFileSync(join(PROJECT_FOLDER, 'tests', 'samples', `${name}.dxf`), 'latin1');
  const whole = () => wholeCheck(dxf);
  const least = leastCheck(dxf);
  for (let i = 0; i < WARM_UP; i++) {
    whole();
    least();
  }
  const times = Array.from({ length: ROUNDS }, () => [timeOf(whole), timeOf(least)] as const);
  const wholeMs = undisturbed(times.map(([ms]) => ms));
  const leastMs = undisturbed(times.map(([, ms]) => ms));
  const ratio = (wholeMs / leastMs).toFixed(2);
  process.stdout.write(
    `${name}: check ${wholeMs.toFixed(2)} ms, parse and one union ${leastMs.toFixed(2)} ms, ratio ${ratio}\n`,
  );
}

function wholeCheck(dxf: string): string {
  const drawing = measureDxf(dxf, { sprueDiameterMm: demoBolster.sprue.partingFaceDiameterMm });
  const ground = { bolster: demoBolster, press: demoPress, rules: demoRules };
  const check = checkPlate({ drawing, plate: samplePlate, polymer: polymer ?? fail(), ...ground });
  return JSON.stringify(wordReport(check, { drawing, polymer: 'PP', bolster: { id: 'demo', version: 1 } }));
}

function timeOf(work: () => unknown): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

function fail(): never {
  throw new Error('no PP');
}
