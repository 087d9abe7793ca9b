import { describe, expect, it } from 'vitest';
import {
  type DrawnHole,
  type JudgedReading,
  judgeReadings,
  type PlateAsDrawn,
  type PlateReadings,
} from '../../../server/engineering/fit/judge-readings.js';
import { clearanceHoleLimits } from '../../../server/engineering/fit/reading-limits.js';
import { demoBolster, samplePlate } from '../../support/gullwing.js';
import { seeded } from './seeded.js';

/** M6 × 20 in 16 mm, hole 6.6, sink 11 × 7: nine millimetres of metal under the head, eleven in the thread. */
const M6: DrawnHole = {
  screw: 'M6',
  screwLengthMm: 20,
  diameterMm: 6.6,
  sinkDepthMm: 7,
  sinkDiameterMm: 11,
  tappedDepthMm: 15,
};

const drawn: PlateAsDrawn = {
  plate: samplePlate,
  bolster: demoBolster,
  holes: [M6],
  feed: { diameterMm: 4, depthMm: 5 },
  flashGap: { minMm: 0.03, maxMm: 0.05 },
};

const NOTHING: PlateReadings = { thicknessMm: null, holes: [], feedDiameterMm: null, feedDepthMm: null };
const NO_HOLE = { hole: 1, diameterMm: null, sinkDiameterMm: null, sinkDepthMm: null };

const thick = (...thicknessMm: [number, number, number, number]) =>
  judgeReadings({ ...NOTHING, thicknessMm }, drawn);
const atHole = (given: Partial<typeof NO_HOLE> | object, about: Partial<DrawnHole> = {}) =>
  judgeReadings(
    { ...NOTHING, holes: [{ ...NO_HOLE, ...given }] },
    { ...drawn, holes: [{ ...M6, ...about }] },
  );
const of = (judged: readonly JudgedReading[], check: JudgedReading['check']) =>
  judged.find((one) => one.check === check);

describe('thickness at the four corners', () => {
  it('is as drawn within a tenth, told up to half a millimetre, and beyond that another plate', () => {
    const judged = thick(16.1, 15.85, 16.5, 16.51);
    expect(judged.slice(0, 4)).toMatchObject([
      { field: 'thicknessMm.0', verdict: 'clear', situation: 'agrees' },
      { field: 'thicknessMm.1', verdict: 'caution', situation: 'differs' },
      { field: 'thicknessMm.2', verdict: 'caution', situation: 'differs' },
      { field: 'thicknessMm.3', verdict: 'stop', situation: 'contradicts', limitMm: 0.5 },
    ]);
  });

  it.each([
    // Largest less smallest, by hand.
    [[16.01, 16.0, 15.99, 16.02], 0.03, 'clear'],
    [[16.01, 16.0, 15.98, 16.02], 0.04, 'caution'],
    [[16.0, 16.1, 16.05, 16.0], 0.1, 'caution'],
    [[16.0, 16.06, 15.95, 16.0], 0.11, 'stop'],
  ] as const)('%j are parallel to %f mm: %s', (readings, parallelMm, verdict) => {
    const judged = of(thick(...(readings as unknown as [number, number, number, number])), 'parallelism');
    expect(judged?.figureMm).toBeCloseTo(parallelMm, 6);
    expect(judged?.verdict).toBe(verdict);
    expect(judged?.source).toBe('common practice, no source');
  });

  it('is taken for inches where only that fits, and nothing is made of it', () => {
    const judged = thick(0.63, 16.0, 16.0, 16.0);
    expect(judged[0]).toMatchObject({ verdict: 'stop', situation: 'in-inches', meantMm: 16 });
    expect(of(judged, 'parallelism')).toBeUndefined();
    expect(thick(0.3, 16, 16, 16)[0]).toMatchObject({ situation: 'contradicts' });
  });

  it('is held, at its thinnest and its thickest, against the bolster’s daylight', () => {
    const plate = { thicknessMm: 12.05, facingThicknessMm: 0, packerThicknessMm: 0 };
    const judge = (thicknessMm: [number, number, number, number]) =>
      judgeReadings({ ...NOTHING, thicknessMm }, { ...drawn, plate });
    expect(of(judge([12.02, 12.0, 12.01, 12.02]), 'minimum-daylight')?.verdict).toBe('clear');
    expect(of(judge([12.02, 11.99, 12.01, 12.02]), 'minimum-daylight')).toMatchObject({
      verdict: 'stop',
      figureMm: 11.99,
      limitMm: 12,
    });
    const tall = { thicknessMm: 16, facingThicknessMm: 20, packerThicknessMm: 24 };
    const stacked = judgeReadings(
      { ...NOTHING, thicknessMm: [16.01, 16, 16, 16] },
      { ...drawn, plate: tall },
    );
    expect(of(stacked, 'largest-stack')).toMatchObject({ verdict: 'stop', figureMm: 60.01, limitMm: 60 });
  });

  it('agrees with a count in whole thousandths, over seeded readings', () => {
    const seed = 20261125;
    const random = seeded(seed);
    for (let round = 0; round < 2000; round += 1) {
      const microns = Array.from({ length: 4 }, () => 15_400 + Math.floor(random() * 1_200));
      const [a = 0, b = 0, c = 0, d = 0] = microns.map((micron) => micron / 1000);
      const judged = thick(a, b, c, d);
      const wanted = microns.map((micron) => {
        const off = Math.abs(micron - 16_000);
        return off <= 100 ? 'clear' : off <= 500 ? 'caution' : 'stop';
      });
      expect(
        judged.slice(0, 4).map(({ verdict }) => verdict),
        `seed ${seed}, ${microns}`,
      ).toEqual(wanted);
      const spread = Math.max(...microns) - Math.min(...microns);
      expect(of(judged, 'parallelism')?.verdict, `seed ${seed}, ${microns}`).toBe(
        spread <= 30 ? 'clear' : spread <= 100 ? 'caution' : 'stop',
      );
    }
  });
});

describe('a bolt hole', () => {
  // ISO 273: M6 fine 6.4, coarse 7.0; ISO 286-1: IT14 from 6 to 10 mm is 0.36. M3: 3.2 and 3.6 + 0.30. M16: 17 and 18.5 + 0.52.
  it.each([
    ['M6', 6.4, 7.36],
    ['M3', 3.2, 3.9],
    ['M16', 17, 19.02],
  ] as const)('for %s is from %f to %f mm wide', (size, minMm, maxMm) => {
    const limits = clearanceHoleLimits(size);
    expect(limits.minMm).toBeCloseTo(minMm, 6);
    expect(limits.maxMm).toBeCloseTo(maxMm, 6);
  });

  it.each([
    [6.0, 6.4, 'stop', 'beyond'],
    [6.01, 6.4, 'caution', 'differs'],
    [6.35, 6.5, 'caution', 'beyond'],
    [6.4, 6.6, 'clear', 'agrees'],
    [6.8, 6.6, 'clear', 'agrees'],
    [6.9, 6.6, 'caution', 'differs'],
    [7.2, 6.6, 'stop', 'contradicts'],
    [7.4, 7.3, 'caution', 'beyond'],
  ] as const)('of %f mm, drawn %f, is %s', (diameterMm, drawnMm, verdict, situation) => {
    const [judged] = atHole({ diameterMm }, { diameterMm: drawnMm });
    expect(judged).toMatchObject({ check: 'hole', hole: 1, verdict, situation });
  });

  it('in inches is told as what was meant', () => {
    expect(atHole({ diameterMm: 0.26 })[0]).toMatchObject({ situation: 'in-inches', meantMm: 6.6 });
  });

  it('that is not drawn is told', () => {
    const judged = judgeReadings({ ...NOTHING, holes: [{ ...NO_HOLE, hole: 2, diameterMm: 6.6 }] }, drawn);
    expect(judged).toMatchObject([{ verdict: 'stop', situation: 'not-drawn', hole: 2 }]);
  });
});

describe('the sink of an M6 head, ISO 4762: k 6, dk 10 and knurled 10.22', () => {
  it.each([
    [7.0, 'clear', 'agrees'],
    [6.7, 'caution', 'differs'],
    [6.0, 'caution', 'differs'],
    [5.99, 'stop', 'contradicts'],
  ] as const)('%f mm deep, drawn 7: %s', (sinkDepthMm, verdict, situation) => {
    expect(of(atHole({ sinkDepthMm }), 'sink-depth')).toMatchObject({ verdict, situation });
  });

  it('lets a head stand proud by what it is short, whatever the drawing says', () => {
    const judged = of(atHole({ sinkDepthMm: 5.9 }, { sinkDepthMm: 6 }), 'sink-depth');
    expect(judged).toMatchObject({ verdict: 'stop', situation: 'beyond', limitMm: 6, allowed: 'at-least' });
  });

  it.each([
    [11.0, 'clear'],
    [10.22, 'caution'],
    [10.1, 'caution'],
    [9.99, 'stop'],
  ] as const)('%f mm wide, drawn 11: %s', (sinkDiameterMm, verdict) => {
    expect(of(atHole({ sinkDiameterMm }), 'sink-diameter')?.verdict).toBe(verdict);
  });

  it('so deep that the screw ends on the bottom of its hole is a stop', () => {
    // 20 - (16 - 7.9) = 11.9 in the thread.
    const deep = of(atHole({ sinkDepthMm: 7.9 }, { tappedDepthMm: 11.5 }), 'screw-end');
    expect(deep).toMatchObject({ verdict: 'stop', figureMm: 11.9, limitMm: 11.5 });
    // A plate that is thinner than drawn lets the screw in further: 20 - (15.6 - 7) = 11.4.
    const thin = judgeReadings(
      { ...NOTHING, thicknessMm: [16, 16, 15.6, 16], holes: [{ ...NO_HOLE, sinkDepthMm: 7 }] },
      { ...drawn, holes: [{ ...M6, tappedDepthMm: 11.3 }] },
    );
    expect(of(thin, 'screw-end')).toMatchObject({ verdict: 'stop', figureMm: 11.4 });
  });
});

describe('the feed pocket', () => {
  const feed = (feedDiameterMm: number | null, feedDepthMm: number | null = null) =>
    judgeReadings({ ...NOTHING, feedDiameterMm, feedDepthMm }, drawn);

  it('is as drawn, and never narrower than the sprue’s end', () => {
    expect(feed(4.1)).toMatchObject([{ check: 'feed', verdict: 'clear' }]);
    // The sprue at Gullwing Yard ends 3.5 mm wide.
    const narrow = judgeReadings(
      { ...NOTHING, feedDiameterMm: 3.45 },
      { ...drawn, feed: { diameterMm: 3.5, depthMm: 5 } },
    );
    expect(narrow).toMatchObject([{ verdict: 'stop', situation: 'beyond', limitMm: 3.5 }]);
    expect(feed(null, 5.2)).toMatchObject([{ check: 'feed-depth', verdict: 'caution' }]);
  });
});
