import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { Clipper64, ClipType, FillRule, type Path64, type Paths64 } from 'clipper2-ts';
import type { DxfParser as Parser } from 'dxf-parser';
import { measureDxf } from '../../server/engineering/drawing/measure-drawing.js';
import { checkPlate } from '../../server/engineering/plate-check.js';
import { findPolymer } from '../../server/engineering/polymers/polymers.js';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { wordReport } from '../../server/words/index.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../support/gullwing.js';

/**
 * A whole plate check (read, measure, place, all findings, report as JSON) against the least any such check must do
 * with off-the-shelf parts: parse the file with dxf-parser and unite its shapes once with clipper2-ts, the curves
 * already flattened and the paths already swept. Both warm, in one process, taking turns.
 * The goal for tile-spacer-4up is a ratio of 3.
 */
const ROUNDS = 200;
const WARM_UP = 300;
const GRID_PER_MM = 10_000;

/** The package exports its class in another way than its types say. */
const DxfParser: typeof Parser = createRequire(import.meta.url)('dxf-parser');

const polymer = findPolymer('PP');
if (polymer === null) throw new Error('no PP');

for (const name of ['tile-spacer-4up', 'board-counter-8up']) {
  const dxf = readFileSync(join(PROJECT_FOLDER, 'tests', 'samples', `${name}.dxf`), 'latin1');
  const whole = () => wholeCheck(dxf);
  const shapes = shapesOf(dxf);
  const least = () => leastWork(dxf, shapes);
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

function leastWork(dxf: string, shapes: Paths64): Paths64 {
  new DxfParser().parseSync(dxf);
  const clipper = new Clipper64();
  clipper.addSubject(shapes);
  const solution: Paths64 = [];
  clipper.execute(ClipType.Union, FillRule.NonZero, solution);
  return solution;
}

/** Everything that is cut, feature by feature, on the clipper's whole-number grid. */
function shapesOf(dxf: string): Paths64 {
  const { features } = measureDxf(dxf, { sprueDiameterMm: demoBolster.sprue.partingFaceDiameterMm });
  const regions = Object.values(features).flatMap((feature) => (feature ? [feature.region] : []));
  return regions.flat().map((ring): Path64 => ring.map(({ x, y }) => onGrid(x, y)));
}

function onGrid(x: number, y: number) {
  return { x: Math.round(x * GRID_PER_MM), y: Math.round(y * GRID_PER_MM), z: 0 };
}

function timeOf(work: () => unknown): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

/** What a tenth of the rounds stay under: the others shared the machine with something. */
function undisturbed(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 10)] ?? Number.NaN;
}

function fail(): never {
  throw new Error('no PP');
}
