import { describe, expect, it } from 'vitest';
import { checkMachinable } from '../../../server/engineering/machining/check-machinable.js';
import { samplePlate } from '../../support/gullwing.js';
import { expectedSamples, sampleDrawing } from '../fit/samples.js';

const CUTTER = { feature: null, form: null, diameterMm: null, taperDeg: null };

function machinable(file: string, change: Partial<typeof samplePlate> = {}) {
  return checkMachinable({ drawing: sampleDrawing(file), plate: { ...samplePlate, ...change } });
}

describe('whether a plate can be milled', () => {
  it('every readable sample is clear but the deep cap, whose groove of 2 mm is 13.5 mm deep', () => {
    const notClear = Object.keys(expectedSamples()).filter((file) => machinable(file).verdict !== 'clear');
    expect(notClear).toEqual(['deep-cap.dxf']);
    expect(machinable('deep-cap.dxf')).toMatchObject({
      verdict: 'caution',
      situation: 'too-deep',
      figure: 13.5,
      limit: 10,
      figures: { cutterMm: 2, depthToDiameter: 6.75 },
    });
  });

  it('a given cutter thicker than its channel stops: gates of the tile spacer are drawn 2 mm wide', () => {
    const cutters = [{ ...CUTTER, feature: 'gate' as const, diameterMm: 3 }];
    expect(machinable('tile-spacer-4up.dxf', { cutters })).toMatchObject({
      verdict: 'stop',
      situation: 'given-too-thick',
      figure: 2,
      limit: 3,
      margin: -1,
      cures: [
        { code: 'thinner-cutter', amount: 2 },
        { code: 'widen', amount: 1 },
      ],
    });
  });

  it('walls that lean until they meet stop, and only those', () => {
    const finding = machinable('seed-label-2up.dxf', { draftDeg: 30, cutters: [] });
    // Its runner, 4 mm wide and 2.5 mm deep, loses 2 × 2.5 × tan 30° = 2.89 mm: 1.11 mm are left.
    expect(finding.verdict).toBe('clear');
    const deeper = machinable('deep-cap.dxf', { draftDeg: 30 });
    // A groove of 2 mm, 13.5 mm deep, would have to be 15.6 mm wide.
    expect(deeper).toMatchObject({ verdict: 'stop', situation: 'taper-closes' });
    expect(deeper.limit).toBeCloseTo(2 * 13.5 * Math.tan(Math.PI / 6), 6);
  });
});
