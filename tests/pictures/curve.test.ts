import { describe, expect, it } from 'vitest';
import type { Finding } from '../../server/engineering/finding.js';
import { checkPlate } from '../../server/engineering/plate-check.js';
import { findPolymer, type Polymer } from '../../server/engineering/polymers/polymers.js';
import { type CurveInput, curvePicture } from '../../server/pictures/curve.js';
import { warmingCurve } from '../../server/plates/warming-curve.js';
import { sampleDrawing } from '../engineering/fit/samples.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../support/gullwing.js';

/** A straight line from 20 to 80 over two hours: 50 after one. */
const STRAIGHT: CurveInput = {
  label: 'Straight up',
  curves: [
    {
      points: [
        [0, 20],
        [120, 80],
        [240, 80],
      ],
      name: 'plate',
    },
    {
      points: [
        [0, 20],
        [240, 32],
      ],
      name: 'cooled',
      dashed: true,
    },
  ],
  limits: [
    { y: 50, name: 'limit' },
    { y: 54, name: 'near it' },
  ],
  asked: [{ x: 60, y: 50, words: '60 min to 50' }],
  x: { to: 120, ticks: [0, 60, 120].map((at) => ({ at, text: String(at) })) },
  y: { from: 20, to: 80, unit: 'C' },
};

const pathsOf = (markup: string, className: string) =>
  [...markup.matchAll(new RegExp(`<path class="${className}" d="([^"]+)"`, 'g'))].map(([, d]) => d ?? '');

const pointsOf = (d: string) =>
  [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const);

describe('a curve', () => {
  const markup = curvePicture(STRAIGHT).markup;
  const [main] = pathsOf(markup, 'ps-curve');
  const [first, last] = [pointsOf(main ?? '')[0], pointsOf(main ?? '').at(-1)];

  it('says what it shows and carries no style', () => {
    expect(markup).toMatch(
      /^<svg class="ps-picture ps-curve-picture"[^>]* role="img" aria-label="Straight up"/,
    );
    expect(markup).not.toContain('style=');
  });

  it('goes to its value at the end of the scale, not beyond', () => {
    expect(last?.[0]).toBe(356);
    expect(first?.[1]).toBeGreaterThan(last?.[1] ?? NaN);
    const dashed = pointsOf(pathsOf(markup, 'ps-curve ps-curve--dashed')[0] ?? '').at(-1);
    // Half way of its 12 degrees, on a scale of 60.
    const height = (first?.[1] ?? NaN) - (last?.[1] ?? NaN);
    expect(((first?.[1] ?? NaN) - (dashed?.[1] ?? NaN)) / height).toBeCloseTo(6 / 60, 2);
  });

  it('measures what is asked to where the curve meets the limit', () => {
    const [drop] = pathsOf(markup, 'ps-centre-line');
    const [top] = pointsOf(drop ?? '');
    expect(top?.[0]).toBeCloseTo(((first?.[0] ?? NaN) + (last?.[0] ?? NaN)) / 2, 1);
    const [limit] = pathsOf(markup, 'ps-limit');
    expect(pointsOf(limit ?? '')[0]?.[1]).toBeCloseTo(top?.[1] ?? NaN, 1);
    expect(markup).toContain('60 min to 50');
  });

  it('draws at most four grid lines, and keeps names of near limits apart', () => {
    expect(pathsOf(markup, 'ps-curve-grid').length).toBeLessThanOrEqual(4);
    const yOf = (name: string) => Number(new RegExp(`y="([\\d.]+)"[^>]*>${name}<`).exec(markup)?.[1]);
    expect(yOf('limit') - yOf('near it')).toBeGreaterThan(16);
  });

  it('stays inside its frame for any scale there is', () => {
    for (const to of [30, 60, 120, 180, 240, 360]) {
      const picture = curvePicture({ ...STRAIGHT, x: { ...STRAIGHT.x, to }, asked: [] }).markup;
      const spots = [...picture.matchAll(/ (?:x|cx)="(-?[\d.]+)"/g)].map(([, x]) => Number(x));
      for (const x of spots) expect(x).toBeGreaterThanOrEqual(0);
      for (const x of spots) expect(x).toBeLessThanOrEqual(360);
    }
  });
});

describe('the curve of a warming plate', () => {
  const press = { ...demoPress, chiller: { flowLPerMin: 6, waterC: 18 } };
  const drawn = (finding: Finding) => warmingCurve(finding)?.markup ?? '';
  const warmingOf = (file: string, chiller: boolean) => {
    const ground = { plate: samplePlate, polymer: findPolymer('PP') as Polymer, bolster: demoBolster, press };
    const run = { shots: null, chiller };
    const { findings } = checkPlate({ drawing: sampleDrawing(file), ...ground, rules: demoRules, run });
    return findings.find(({ check }) => check === 'plate-warming') as Finding;
  };

  it('shows both ways where the plate has channels, the one that is reckoned with as a full line', () => {
    const without = drawn(warmingOf('drawer-pull.dxf', false));
    expect(without).toContain('>without a chiller<');
    expect(without).toContain('>with the chiller<');
    const full = (markup: string) => pointsOf(pathsOf(markup, 'ps-curve')[0] ?? '').at(-1)?.[1] ?? NaN;
    expect(full(drawn(warmingOf('drawer-pull.dxf', true)))).toBeGreaterThan(full(without));
  });

  it('shows one where it has none, and names it the plate', () => {
    const markup = drawn(warmingOf('board-counter-8up.dxf', false));
    expect(markup).toContain('>plate<');
    expect(pathsOf(markup, 'ps-curve ps-curve--dashed')).toEqual([]);
    expect(markup).toMatch(
      /aria-label="The plate’s temperature over a run without a chiller: from 20 °C, \d+ °C after an hour, settling at \d+ °C\."/,
    );
  });
});
