import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { PROJECT_FOLDER } from '../../server/project-folder.js';

/** The text of a sample drawing. */
export function sampleDxf(name: string): string {
  return readFileSync(join(PROJECT_FOLDER, 'tests', 'samples', `${name}.dxf`), 'latin1');
}

/** What is said about most samples beside their drawing: 16 mm stock on M6 screws, heads sunk 7 mm. */
export const usualFacts = {
  thicknessMm: 16,
  alloy: 'EN AW-6082-T6',
  screw: { size: 'M6', lengthMm: 20, headSinkDepthMm: 7, headSinkDiameterMm: 11 },
};

/** A plate as a check or a submission takes it. */
export function plateBody(sample = 'tile-spacer-4up', more: object = {}) {
  return { dxf: sampleDxf(sample), ...usualFacts, ...more };
}
