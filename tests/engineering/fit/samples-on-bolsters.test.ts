import { describe, expect, it } from 'vitest';
import { registerPlate } from '../../../server/engineering/fit/register-plate.js';
import { demoBolster, demoRules, keyedBolster } from '../../support/gullwing.js';
import { expectedSamples, sampleDrawing } from './samples.js';

/** Figures of tests/samples/expected.json, which were computed by two other programs; its `meta` gives the bands. */
const BOLT_ERROR_MM = 0.01;

describe.each([
  ['demo', demoBolster],
  ['keyed', keyedBolster],
] as const)('the sample drawings on the %s bolster', (name, bolster) => {
  it.each(Object.entries(expectedSamples()))('%s', (file, expected) => {
    const registration = registerPlate(sampleDrawing(file), bolster, 6, demoRules);
    const fit = expected.fit[name];
    const plain = fit.fits.filter((transform) => !transform.startsWith('mirror'));
    expect(registration.fits).toBe(plain.length > 0);
    expect(registration.mirroredFits).toBe(fit.fits.some((transform) => transform.startsWith('mirror')));
    if (fit.bolt_pattern_fits.some((transform) => !transform.startsWith('mirror'))) {
      expect(registration.holesFit && registration.feedFits).toBe(true);
    }
    const fitting = fit.transforms.find(
      (transform) => !transform.mirror && plain.includes(String(transform.rotation_deg)),
    );
    if (fitting === undefined) return;
    expect(Math.round(registration.rotationDeg ?? -1) % 360).toBe(fitting.rotation_deg);
    expect(Math.abs((registration.worstErrorMm ?? 99) - fitting.max_bolt_error_mm)).toBeLessThan(
      BOLT_ERROR_MM,
    );
    expect(registration.worstErrorAfterFloatMm).toBeLessThanOrEqual(
      (fitting.min_max_bolt_error_after_float_mm ?? 0) + 2e-4,
    );
  });
});

describe('the samples that do not go on', () => {
  it.each([
    ['bolt-off-grid.dxf', 3, 1.5],
    ['feed-off-centre.dxf', 2.5, 0],
  ])('%s: %d mm off with the feed on the sprue, at most %d mm after the float', (file, off, after) => {
    const registration = registerPlate(sampleDrawing(file), demoBolster, 6, demoRules);
    expect(registration.worstErrorMm).toBeCloseTo(off, 2);
    expect(registration.worstErrorAfterFloatMm).toBeLessThanOrEqual(after + 2e-4);
  });
});
