import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cavityPressureOf } from '../../../server/engineering/clamp/cavity-pressure.js';
import { openingForceOf } from '../../../server/engineering/clamp/opening-force.js';
import { findPolymer, POLYMERS, type Polymer } from '../../../server/engineering/polymers/polymers.js';
import { handDrawing } from '../../support/hand-drawing.js';

const PP = findPolymer('PP') as Polymer;
const US_TON_PER_IN2_MPA = 13.7895;

describe('cavity pressure by flow ratio and wall', () => {
  it.each([
    [100, 2.5, 'whole', 21, 48],
    [100, 1.2, 'upper-half', 34.5, 48],
    [160, 2.5, 'upper-half', 34.5, 48],
    [200, 2.5, 'upper-half', 34.5, 48],
    [300, 2.5, 'beyond', 51.75, 72],
  ])('PP at %d:1 and %f mm takes the %s: %f to %f MPa', (flowRatio, wallMm, band, minMpa, maxMpa) => {
    expect(cavityPressureOf(PP, { flowRatio, wallMm })).toEqual({ band, minMpa, maxMpa });
  });

  it('a thin wall passes 5 US ton/in2 where its flow is long (Jake Tuczapski, Clamp tonnage, PDI tech tip: above about 200:1)', () => {
    const { maxMpa } = cavityPressureOf(PP, { flowRatio: 400, wallMm: 0.15 });
    expect(maxMpa / US_TON_PER_IN2_MPA).toBeGreaterThan(5);
  });

  it('never falls as the flow gets longer or the wall thinner, and has no leap at its top', () => {
    const seed = 77_013;
    const ratio = fc.double({ min: 1, max: 600, noNaN: true });
    const wall = fc.double({ min: 0.2, max: 8, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...POLYMERS), ratio, ratio, wall, wall, (polymer, r1, r2, w1, w2) => {
        const easy = cavityPressureOf(polymer, { flowRatio: Math.min(r1, r2), wallMm: Math.max(w1, w2) });
        const hard = cavityPressureOf(polymer, { flowRatio: Math.max(r1, r2), wallMm: Math.min(w1, w2) });
        expect(hard.minMpa).toBeGreaterThanOrEqual(easy.minMpa);
        expect(hard.maxMpa).toBeGreaterThanOrEqual(easy.maxMpa);
      }),
      { seed },
    );
    const at = (flowRatio: number) => cavityPressureOf(PP, { flowRatio, wallMm: 2 }).maxMpa;
    expect(at(200.001) / at(200)).toBeCloseTo(1, 4);
  });

  it('a flow that was followed along the runners takes the place of the straight one', () => {
    const drawing = handDrawing({
      plate: { x: 0, y: 0, widthMm: 180, heightMm: 140 },
      cavities: [{ x: 0, y: 0, widthMm: 60, heightMm: 40, depthMm: 3 }],
    });
    expect(openingForceOf(drawing, PP, 1.2).pressureBand).toBe('whole');
    expect(openingForceOf(drawing, PP, 1.2, { flowRatio: 250, wallMm: 3 }).pressureBand).toBe('beyond');
  });
});
