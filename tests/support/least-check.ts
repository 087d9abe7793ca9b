import { createRequire } from 'node:module';
import { Clipper64, ClipType, FillRule, type Path64, type Paths64 } from 'clipper2-ts';
import type { DxfParser as Parser } from 'dxf-parser';
import { measureDxf } from '../../server/engineering/drawing/measure-drawing.js';
import { demoBolster } from './gullwing.js';

const GRID_PER_MM = 10_000;

/** The package exports its class in another way than its types say. */
const DxfParser: typeof Parser = createRequire(import.meta.url)('dxf-parser');

/**
 * The least that any check of a drawing must do with off-the-shelf parts: parse the file with dxf-parser and unite
 * its shapes once with clipper2-ts, the curves already flattened and the paths already swept.
 */
export function leastCheck(dxf: string): () => Paths64 {
  const shapes = shapesOf(dxf);
  return () => {
    new DxfParser().parseSync(dxf);
    const clipper = new Clipper64();
    clipper.addSubject(shapes);
    const solution: Paths64 = [];
    clipper.execute(ClipType.Union, FillRule.NonZero, solution);
    return solution;
  };
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

/** What a tenth of the rounds stay under: the others shared the machine with something. */
export function undisturbed(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 10)] ?? Number.NaN;
}
