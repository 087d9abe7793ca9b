import { readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** The text of one of the sample drawings. */
function sampleDxf(name: string): Promise<string> {
  return readFile(join('tests', 'samples', `${name}.dxf`), 'utf8');
}

/** The body that keeps a sample drawing as a plate: 16 mm EN AW-6082-T6, M6 x 20, heads sunk 7 mm. */
export async function sampleBody(sample: string, name: string) {
  return {
    name,
    dxf: await sampleDxf(sample),
    thicknessMm: 16,
    alloy: 'EN AW-6082-T6',
    screw: { size: 'M6', lengthMm: 20, headSinkDepthMm: 7, headSinkDiameterMm: 11 },
  };
}
