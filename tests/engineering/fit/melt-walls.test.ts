import { describe, expect, it } from 'vitest';
import type { MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import { plateWith } from '../../../server/engineering/fit/plate-with.js';
import type { Ring } from '../../../server/engineering/geometry/point.js';
import { wordFinding } from '../../../server/words/index.js';
import { samplePlate } from '../../support/gullwing.js';
import { fitFinding } from './check-plate-fit.js';
import { boltsAt, features, madeDrawing, pocket, rectangle } from './made-drawing.js';
import { seeded } from './seeded.js';

const corners = boltsAt(6.6, [-80, -60], [80, -60], [80, 60], [-80, 60]);

/** Cavities of one depth, with a runner and gates of others. */
function plateOf(
  cavities: readonly Ring[],
  ways: { readonly runner?: Ring; readonly gates?: readonly Ring[] } = {},
  depthMm = 4,
): MeasuredDrawing {
  return madeDrawing({
    bolts: corners,
    over: {
      cavities: cavities.map((ring) => ({
        ...{ region: [ring], depthMm, maxDepthMm: depthMm, areaMm2: 1, volumeMm3: 1, levels: [] },
        ...{ centroid: { x: 0, y: 0 }, widthMm: 1, heightMm: 1 },
      })),
      features: features({
        CAVITY: pocket(depthMm, ...cavities),
        RUNNER: ways.runner === undefined ? null : pocket(3, ways.runner),
        GATE: ways.gates === undefined ? null : pocket(1, ...ways.gates),
      }),
    },
  });
}

const square = (x: number, y = 0) => rectangle(20, 20, { x, y });

describe('metal between what fills with melt', () => {
  it.each([
    [0.3, 'caution'],
    [1.9, 'caution'],
    // Half of 4 mm of depth.
    [2, 'clear'],
  ] as const)('two cavities %f mm apart: %s', (apartMm, verdict) => {
    const finding = fitFinding('walls', plateOf([square(-30), square(-10 + apartMm)]));
    expect(finding.verdict).toBe(verdict);
    if (verdict === 'clear') return;
    expect(finding).toMatchObject({ situation: 'thin-wall', limit: 2, basis: 'practice' });
    expect(finding.figure).toBeCloseTo(apartMm, 6);
    expect(wordFinding(finding).summary).toContain('between the two cavities at x');
  });

  it('the move that is offered clears it, wherever the two lie', () => {
    const random = seeded(31);
    for (let n = 0; n < 40; n++) {
      const [x, y] = [0.2 + 1.5 * random(), -25 + 10 * random()];
      const at = { x: -10 + x, y };
      const finding = fitFinding('walls', plateOf([square(-30, y), rectangle(20, 20 + 8 * random(), at)]));
      expect(finding.verdict).toBe('caution');
      const { dxMm, dyMm } = finding.cures[0]?.figures ?? {};
      const moved = rectangle(20, 20, { x: -30 + Number(dxMm), y: y + Number(dyMm) });
      const mended = plateOf([moved, rectangle(20, 20, at)]);
      expect(fitFinding('walls', mended).verdict).toBe('clear');
    }
  });

  it('a runner that passes a cavity by a tenth of a millimetre', () => {
    // Half of the runner's 3 mm.
    const finding = fitFinding(
      'walls',
      plateOf([square(0, 20)], { runner: rectangle(80, 6, { x: 0, y: 6.9 }) }),
    );
    expect(finding).toMatchObject({
      verdict: 'caution',
      limit: 1.5,
      figures: { of: 'cavity', to: 'runner' },
    });
    expect(finding.figure).toBeCloseTo(0.1, 6);
  });

  it('the land of a gate is thin on purpose, and so is metal where a runner runs straight in', () => {
    const runner = rectangle(6, 20, { x: 0, y: -0.6 });
    const gated = plateOf([square(0, 20)], { runner, gates: [rectangle(2, 2, { x: 0, y: 9.7 })] });
    expect(fitFinding('walls', gated).verdict).toBe('clear');
    const direct = plateOf([square(0, 20)], { runner: rectangle(6, 30, { x: 0, y: 0 }) });
    expect(fitFinding('walls', direct).verdict).toBe('clear');
  });

  it('away from its gate the same runner is judged', () => {
    const gates = [rectangle(2, 2, { x: -9, y: 9.7 })];
    const along = rectangle(20, 3, { x: 0, y: 7.9 });
    const finding = fitFinding('walls', plateOf([square(0, 20)], { runner: along, gates }));
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'thin-wall' });
    expect(finding.figure).toBeCloseTo(0.6, 6);
  });
});

describe('a floor within what stock and milling are off', () => {
  it.each([
    [16, 'stop', 'through-floor'],
    [15.95, 'stop', 'no-floor-left'],
    [15.71, 'stop', 'no-floor-left'],
    [15.7, 'caution', 'thin-floor'],
    [13, 'clear', 'enough'],
  ] as const)('a cavity %f mm deep in 16 mm: %s %s', (depthMm, verdict, situation) => {
    expect(fitFinding('walls', plateOf([rectangle(30, 30)], {}, depthMm))).toMatchObject({
      verdict,
      situation,
    });
  });

  it('is told to the hundredth, and thicker stock clears it', () => {
    const drawing = plateOf([rectangle(30, 30)], {}, 15.95);
    const finding = fitFinding('walls', drawing);
    expect(wordFinding(finding).summary).toContain('15.95 mm deep in a plate of 16.0 mm');
    expect(finding.source).toContain('common practice, no source');
    const plate = plateWith(samplePlate, finding.cures[0]?.change ?? {});
    expect(fitFinding('walls', drawing, { plate }).verdict).toBe('clear');
  });
});

/** A bore of 6 mm under a cavity 3 mm deep. */
function bored(axisMm: number, cavityDepthMm = 3): MeasuredDrawing {
  const path = [
    { x: -60, y: 0 },
    { x: 60, y: 0 },
  ];
  const water = [{ path, diameterMm: 6, depthMm: axisMm, region: [rectangle(126, 6)] }];
  return { ...plateOf([rectangle(30, 30)], {}, cavityDepthMm), water };
}

describe('a cooling bore too near to what lies above or below it', () => {
  it.each([
    // 3 + 3 + 3 mm below a cavity, 16 - 3 - 3 mm above the back.
    [8, 'deeper-bore', 9],
    [5, 'deeper-bore', 9],
    [11, 'shallower-bore', 10],
  ] as const)('its axis at %d mm: %s, %d mm, and that clears it', (axisMm, code, amount) => {
    const finding = fitFinding('walls', bored(axisMm));
    expect(finding.verdict).not.toBe('clear');
    expect(finding.cures).toHaveLength(1);
    expect(finding.cures[0]).toMatchObject({ code, amount });
    expect(fitFinding('walls', bored(amount)).verdict).toBe('clear');
  });

  it('is told as a leak, not as milling', () => {
    const { summary, advice } = wordFinding(fitFinding('walls', bored(11)));
    expect(summary).toMatch(/between the cooling bore and the back.*leak/);
    expect(advice).toMatch(/water under pressure/);
    expect(`${summary} ${advice}`).not.toMatch(/milling/);
  });

  it('offers no depth where face and back leave none', () => {
    const codes = fitFinding('walls', bored(9, 5)).cures.map(({ code }) => code);
    expect(codes).toEqual(['move-apart']);
  });
});
