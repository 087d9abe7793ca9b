import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Cavity } from '../../../server/engineering/drawing/measured-drawing.js';
import { leastBox } from '../../../server/engineering/geometry/least-box.js';
import type { Point } from '../../../server/engineering/geometry/point.js';
import { cavityScale, checkShrinkage } from '../../../server/engineering/part/check-shrinkage.js';
import { findPolymer, POLYMERS, type Polymer } from '../../../server/engineering/polymers/polymers.js';
import { wordFinding } from '../../../server/words/index.js';
import { handDrawing, rectangle } from '../../support/hand-drawing.js';

const PP = findPolymer('PP') as Polymer;
const plate = { x: 0, y: 0, widthMm: 180, heightMm: 140 };
const pocket = { x: 0, y: 0, widthMm: 40, heightMm: 20, depthMm: 3 };

function turned({ x, y }: Point, deg: number): Point {
  const [cos, sin] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return { x: x * cos - y * sin + 5200, y: x * sin + y * cos - 310 };
}

/** A slab of 40 x 20 mm, 2 mm thick, with a block of `blockMm` square that is `deepMm` deep in its middle. */
function slabWithBlock(blockMm: number, deepMm: number): Cavity {
  const [slab, block] = [
    rectangle({ ...pocket }),
    rectangle({ x: 0, y: 0, widthMm: blockMm, heightMm: blockMm }),
  ];
  const round = [slab, [...block].reverse()];
  return {
    region: [slab],
    levels: [
      { depthMm: 2, region: round, areaMm2: 800 - blockMm ** 2 },
      { depthMm: deepMm, region: [block], areaMm2: blockMm ** 2 },
    ],
    areaMm2: 800,
    volumeMm3: 0,
    maxDepthMm: deepMm,
    centroid: { x: 0, y: 0 },
    widthMm: 40,
    heightMm: 20,
  };
}

describe('the scale of a cavity', () => {
  it('40 mm at 1.8 % wants 40.733 mm', () => {
    expect(40 * cavityScale(1.8)).toBeCloseTo(40.733, 3);
  });

  it('agrees with the short form 1 + S + S^2 to 0.002 % at 2.5 %', () => {
    expect(Math.abs(cavityScale(2.5) / (1 + 0.025 + 0.025 ** 2) - 1)).toBeLessThan(0.00002);
  });

  it('a cavity so scaled gives the wanted part back', () => {
    const seed = 4_411;
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 6, noNaN: true }),
        fc.double({ min: 1, max: 300, noNaN: true }),
        (s, mm) => {
          expect(mm * cavityScale(s) * (1 - s / 100)).toBeCloseTo(mm, 9);
        },
      ),
      { seed },
    );
  });
});

describe('shrinkage', () => {
  it('says what a part comes out as, and clears an even wall', () => {
    const finding = checkShrinkage(handDrawing({ plate, cavities: [pocket] }), PP);
    expect(finding).toMatchObject({ verdict: 'clear', situation: 'even', figure: 1 });
    expect(finding.figures).toMatchObject({
      partLengthMm: [40],
      partWidthMm: [20],
      partDepthMm: [3],
      partCount: [1],
    });
    expect(finding.figures.scale).toBeCloseTo(1 / (1 - 0.0185), 12);
    // 40 x (1 - 0.025) to 40 x (1 - 0.012)
    expect(wordFinding(finding).summary).toContain('39.00 to 39.52');
  });

  it('tells equal parts once and counts them', () => {
    const cavities = [-60, 0, 60].map((x) => ({ ...pocket, x }));
    const finding = checkShrinkage(
      handDrawing({ plate, cavities: [...cavities, { ...pocket, y: 50, widthMm: 30 }] }),
      PP,
    );
    expect(finding.figures).toMatchObject({ partLengthMm: [40, 30], partCount: [3, 1] });
  });

  it('a block four times as thick as the slab round it is a caution, and says how thick it may be', () => {
    const drawing = { cavities: [slabWithBlock(10, 8)] };
    const finding = checkShrinkage(drawing, PP);
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'thick-beside-thin' });
    expect(finding.figure).toBeCloseTo(4, 6);
    expect(finding.cures[0]).toMatchObject({ code: 'thin-down', amount: 6 });
    expect(checkShrinkage({ cavities: [slabWithBlock(10, 6)] }, PP).verdict).toBe('clear');
  });

  it('a deep slot is as thick as it is wide', () => {
    const finding = checkShrinkage({ cavities: [slabWithBlock(3, 12)] }, PP);
    expect(finding.figures.thickMm).toBeCloseTo(3, 6);
    expect(finding.verdict).toBe('clear');
  });

  it('what nobody knows stays unknown', () => {
    const finding = checkShrinkage(handDrawing({ plate, cavities: [pocket] }), {
      ...PP,
      shrinkagePercent: null,
    });
    expect(finding).toMatchObject({ verdict: 'unknown', figures: { missing: 'shrinkage' } });
    expect(wordFinding(finding).summary).toMatch(/not known/);
  });

  it.each(POLYMERS.map((polymer) => [polymer.symbol, polymer] as const))('%s can be said', (_, polymer) => {
    const words = wordFinding(checkShrinkage(handDrawing({ plate, cavities: [pocket] }), polymer));
    expect(`${words.line} ${words.summary} ${words.note}`).not.toMatch(/undefined|NaN/);
  });
});

describe('the narrowest box', () => {
  it('is the same however a region is turned and moved', () => {
    const seed = 90_217;
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 360, noNaN: true }),
        fc.double({ min: 1, max: 100, noNaN: true }),
        fc.double({ min: 1, max: 100, noNaN: true }),
        (deg, widthMm, heightMm) => {
          const ring = rectangle({ x: 0, y: 0, widthMm, heightMm }).map((point) => turned(point, deg));
          const box = leastBox([ring]);
          expect(box.widthMm).toBeCloseTo(Math.min(widthMm, heightMm), 6);
          expect(box.lengthMm).toBeCloseTo(Math.max(widthMm, heightMm), 6);
        },
      ),
      { seed },
    );
  });

  it('of nothing is nothing', () => {
    expect(leastBox([])).toEqual({ widthMm: 0, lengthMm: 0 });
  });
});
