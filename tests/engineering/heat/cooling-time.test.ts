import { describe, expect, it } from 'vitest';
import { coolingTimeS, rodExcess, slabExcess } from '../../../server/engineering/heat/cooling-time.js';

const slab = (thicknessMm: number) => ({ kind: 'slab', thicknessMm }) as const;
const cooling = (diffusivityMm2PerS: number, meltC: number, mouldC: number, ejectionC: number) => ({
  diffusivityMm2PerS,
  meltC,
  mouldC,
  ejectionC,
});

/** The first term of the slab's series solved for time, as moulding handbooks print it. */
const firstTermS = (s: number, a: number, tm: number, tw: number, te: number, factor: number) =>
  ((s * s) / (Math.PI ** 2 * a)) * Math.log((factor * (tm - tw)) / (te - tw));

describe('cooling of a slab', () => {
  it.each([
    [2, 0.11, 220, 30, 52],
    [4, 0.11, 220, 30, 52],
    [2, 0.09, 220, 40, 80],
    [3, 0.13, 260, 54, 82],
    [1.5, 0.11, 232, 27, 52],
  ])('%s mm at %s mm2/s from %s to %s in a mould of %s agrees with the handbook form', (s, a, tm, tw, te) => {
    const found = cooling(a, tm, tw, te);
    expect(coolingTimeS(slab(s), found, 'centre') / firstTermS(s, a, tm, tw, te, 4 / Math.PI)).toBeCloseTo(
      1,
      2,
    );
    expect(
      coolingTimeS(slab(s), found, 'average') / firstTermS(s, a, tm, tw, te, 8 / Math.PI ** 2),
    ).toBeCloseTo(1, 2);
  });

  it('HDPE, 2 mm: 8.8 s to the middle and 7.2 s on average; 4 mm: 35 and 29 s', () => {
    const hdpe = cooling(0.11, 220, 30, 52);
    expect(coolingTimeS(slab(2), hdpe, 'centre')).toBeCloseTo(8.8, 1);
    expect(coolingTimeS(slab(2), hdpe, 'average')).toBeCloseTo(7.2, 1);
    expect(coolingTimeS(slab(4), hdpe, 'centre')).toBeCloseTo(35.3, 1);
    expect(coolingTimeS(slab(4), hdpe, 'average')).toBeCloseTo(28.7, 1);
  });

  /** Heat conducted step by step over 200 cells: nothing of the series is used. */
  it.each([0.05, 0.2, 0.6])('agrees with a finite-difference solution at Fourier number %s', (fourier) => {
    const cells = 200;
    const step = 0.4;
    let now = new Float64Array(cells).fill(1);
    const steps = Math.round((fourier * (cells / 2) ** 2) / step);
    for (let n = 0; n < steps; n++) {
      const next = new Float64Array(cells);
      for (let i = 0; i < cells; i++) {
        // The faces lie half a cell outside the first and last middles, at nought.
        const left = i > 0 ? (now[i - 1] as number) : -(now[i] as number);
        const right = i < cells - 1 ? (now[i + 1] as number) : -(now[i] as number);
        next[i] = (now[i] as number) + step * (left - 2 * (now[i] as number) + right);
      }
      now = next;
    }
    const average = now.reduce((sum, value) => sum + value, 0) / cells;
    expect(slabExcess(fourier, 'centre')).toBeCloseTo(now[cells / 2] as number, 3);
    expect(slabExcess(fourier, 'average')).toBeCloseTo(average, 3);
  });

  it('takes the square of the thickness', () => {
    const pp = cooling(0.085, 230, 30, 80);
    expect(coolingTimeS(slab(6), pp, 'centre') / coolingTimeS(slab(2), pp, 'centre')).toBeCloseTo(9, 6);
  });
});

describe('cooling of bars and rods', () => {
  it('PP, a bar of 4 x 8 mm: 28.5 s, not the 124 s of its longer side', () => {
    const pp = cooling(0.085, 230, 30, 80);
    // One term of each series, multiplied, gives 28.5 s; the whole series a hundredth less.
    const rate = Math.PI ** 2 * 0.085 * (1 / 4 ** 2 + 1 / 8 ** 2);
    const firstTerms = Math.log(((4 / Math.PI) ** 2 * (230 - 30)) / (80 - 30)) / rate;
    expect(firstTerms).toBeCloseTo(28.5, 1);
    const whole = coolingTimeS({ kind: 'bar', thicknessMm: 4, widthMm: 8 }, pp, 'centre');
    expect(Math.abs(whole / firstTerms - 1)).toBeLessThan(0.012);
    expect(coolingTimeS(slab(8), pp, 'centre')).toBeCloseTo(124, 0);
  });

  it('a very wide bar is a slab', () => {
    const pp = cooling(0.085, 230, 30, 80);
    const bar = coolingTimeS({ kind: 'bar', thicknessMm: 3, widthMm: 300 }, pp, 'average');
    expect(bar / coolingTimeS(slab(3), pp, 'average')).toBeCloseTo(1, 1);
  });

  /** First roots of J0 as tables print them (2.4048, 5.5201): Abramowitz and Stegun, table 9.5, from memory. */
  it('a rod of 6 mm: by the first term of its series', () => {
    const first = (diameterMm: number, factor: number) =>
      ((diameterMm / 2) ** 2 / (2.404826 ** 2 * 0.09)) * Math.log((factor * (220 - 40)) / (80 - 40));
    const rod = { kind: 'rod', diameterMm: 6 } as const;
    const found = cooling(0.09, 220, 40, 80);
    expect(coolingTimeS(rod, found, 'centre') / first(6, 2 / (2.404826 * 0.519147))).toBeCloseTo(1, 2);
    expect(coolingTimeS(rod, found, 'average') / first(6, 4 / 2.404826 ** 2)).toBeCloseTo(1, 1);
  });

  /** Imperial College London, ME4 Polymer Processing Technology, problem set 5, problem 5.1: 24.6 s by exp(-4.4 Fo). */
  it('a sprue of 5.59 mm as in a published problem', () => {
    const rod = { kind: 'rod', diameterMm: 5.59 } as const;
    const found = coolingTimeS(rod, cooling(0.1, 240, 60, 105), 'centre');
    expect(found).toBeGreaterThan(24.6);
    expect(found / 24.6).toBeLessThan(1.04);
  });

  it('a rod is whole at the start and its series sums to its finite-difference solution', () => {
    expect(rodExcess(0.001, 'centre')).toBeCloseTo(1, 3);
    const cells = 150;
    const step = 0.2;
    let now = new Float64Array(cells).fill(1);
    for (let n = 0; n < Math.round((0.3 * cells ** 2) / step); n++) {
      const next = new Float64Array(cells);
      for (let i = 0; i < cells; i++) {
        const here = now[i] as number;
        const inner = i > 0 ? (now[i - 1] as number) : here;
        const outer = i < cells - 1 ? (now[i + 1] as number) : -here;
        next[i] = here + (step / (i + 0.5)) * ((i + 1) * (outer - here) - i * (here - inner));
      }
      now = next;
    }
    expect(rodExcess(0.3, 'centre')).toBeCloseTo(now[0] as number, 2);
  });

  it('refuses a mould as hot as the part at ejection, and nothing to cool', () => {
    expect(() => coolingTimeS(slab(2), cooling(0.1, 220, 80, 80), 'centre')).toThrow(RangeError);
    expect(() => coolingTimeS(slab(0), cooling(0.1, 220, 40, 80), 'centre')).toThrow(RangeError);
  });
});
