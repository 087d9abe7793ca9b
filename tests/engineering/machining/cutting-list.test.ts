import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import { USUAL_FLASH_GAP } from '../../../server/engineering/fit/reading-limits.js';
import { cuttingList } from '../../../server/engineering/machining/cutting-list.js';
import { boresText, measureRows, STEP_TEXT } from '../../../server/words/en/cutting-list.js';
import { samplePlate } from '../../support/gullwing.js';

function listOf(name: string) {
  const file = join(import.meta.dirname, '../../samples', `${name}.dxf`);
  return cuttingList(measureDxf(readFileSync(file), { sprueDiameterMm: 3.5 }), samplePlate);
}

describe('a cutting list', () => {
  it('roughs every deep level of a cavity, the deepest too', () => {
    const roughed = listOf('drawer-pull')
      .cutters.filter(({ use }) => use === 'rough')
      .flatMap(({ cuts }) => cuts)
      .map(({ feature, depthMm }) => `${feature} ${depthMm}`);
    expect(roughed).toEqual(expect.arrayContaining(['cavity 3', 'cavity 6']));
  });

  it('says where a cooling bore lies: the ends of its axis from the datum', () => {
    const list = listOf('drawer-pull');
    const texts = boresText(list.water);
    for (const { axis, lengthMm } of list.water) {
      const [start, end] = [axis[0], axis.at(-1)];
      expect(
        Math.hypot((end?.x ?? NaN) - (start?.x ?? NaN), (end?.y ?? NaN) - (start?.y ?? NaN)),
      ).toBeCloseTo(lengthMm, 6);
      expect(texts.join(' ')).toContain(`x ${start?.x.toFixed(2)}, y ${start?.y.toFixed(2)}; to x`);
    }
    expect(list.water.length).toBeGreaterThan(0);
  });

  it('lets no vent come out deeper, and holds the faces to the gap that flashes', () => {
    const list = listOf('tile-spacer-4up');
    const vent = measureRows(list).find(({ what }) => what === 'Vent depth');
    expect(vent?.allowed).toBe('+ 0 / \u2212 0.005');
    expect(measureRows(list)[0]?.allowed).toBe('within 0.03 of one another');
    expect(list.parallelMm).toBe(USUAL_FLASH_GAP.minMm);
  });

  it('breaks the outer edges, and not those of the cuts', () => {
    expect(STEP_TEXT.deburr).toMatch(/outer edges of the plate 0.5 mm by hand file; not those of the cuts/);
    expect(STEP_TEXT.finish).not.toContain('deepest first');
  });
});
