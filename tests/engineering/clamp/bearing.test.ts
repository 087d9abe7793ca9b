import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pressurePerNewton } from '../../../server/engineering/clamp/bearing.js';
import { closingRatio, leastRimPressureMpa } from '../../../server/engineering/clamp/closing.js';
import {
  momentsOfBoth,
  momentsWithout,
  turnedMoments,
} from '../../../server/engineering/clamp/joined-moments.js';
import { momentsOf } from '../../../server/engineering/geometry/area.js';
import { rectangle } from '../../support/hand-drawing.js';

const ORIGIN = { x: 0, y: 0 };

function plate(widthMm: number, heightMm: number, x = 0, y = 0) {
  const ring = rectangle({ x, y, widthMm, heightMm });
  return { ring, moments: momentsOf([ring]) };
}

describe('pressure of an eccentric load', () => {
  it('12 kip 1 in and 2 in off the middle of 10 x 6 in: 640, 160, 240, -240 psi at the corners (mathalino.com, problem 918)', () => {
    const { ring, moments } = plate(10, 6);
    const psi = ring.map((corner) => 12_000 * pressurePerNewton(moments, { x: 2, y: 1 }, corner));
    expect(psi.map((p) => Math.round(p)).sort((a, b) => a - b)).toEqual([-240, 160, 240, 640]);
  });

  it('200 kN 10 mm off the middle of a 100 x 80 plate: 40 and 10 MPa, P/A (1 ± 6e/b)', () => {
    const { ring, moments } = plate(100, 80);
    const mpa = ring.map((corner) => 200_000 * pressurePerNewton(moments, { x: 10, y: 0 }, corner));
    expect(Math.max(...mpa)).toBeCloseTo(40, 9);
    expect(Math.min(...mpa)).toBeCloseTo(10, 9);
  });

  it('100 kN of melt 10 mm off centre wants 160 kN of clamp on a 100 x 80 plate, F (1 + 6e/b)', () => {
    const { ring, moments } = plate(100, 80);
    expect(closingRatio(moments, ring, { x: 10, y: 0 }).ratio).toBeCloseTo(1.6, 9);
    expect(leastRimPressureMpa(moments, ring, { x: 10, y: 0 }, 160, 100)).toBeCloseTo(0, 9);
  });

  it('120 mm of land loaded 45 mm off its middle: lowest over mean is 1 - 6e/b = -1.25', () => {
    const { ring, moments } = plate(120, 50);
    const lowest = Math.min(...ring.map((corner) => pressurePerNewton(moments, { x: 45, y: 0 }, corner)));
    expect(lowest * moments.areaMm2).toBeCloseTo(-1.25, 9);
  });

  it('no force closes a plate that lies beside the clamp axis beyond the kern', () => {
    const { ring, moments } = plate(120, 50, 45);
    expect(closingRatio(moments, ring, { x: 45, y: 0 }).ratio).toBe(Number.POSITIVE_INFINITY);
    expect(closingRatio(moments, ring, { x: 45, y: 0 }).worst.x).toBe(105);
  });

  it('is the same however plate and load are turned, and sums to the load over the land', () => {
    const seed = 20_251;
    const coordinate = fc.double({ min: -60, max: 60, noNaN: true });
    fc.assert(
      fc.property(
        coordinate,
        coordinate,
        coordinate,
        coordinate,
        fc.double({ min: 0, max: 6.3, noNaN: true }),
        (ax, ay, px, py, angle) => {
          // An L, so that its own axes are not those of the drawing.
          const shape = [
            { x: -50, y: -40 },
            { x: 60, y: -40 },
            { x: 60, y: -10 },
            { x: 0, y: -10 },
            { x: 0, y: 45 },
            { x: -50, y: 45 },
          ];
          const turn = ({ x, y }: { x: number; y: number }) => ({
            x: x * Math.cos(angle) - y * Math.sin(angle),
            y: x * Math.sin(angle) + y * Math.cos(angle),
          });
          const straight = momentsOf([shape]);
          const turned = momentsOf([shape.map(turn)]);
          const [load, point] = [
            { x: ax, y: ay },
            { x: px, y: py },
          ];
          const here = pressurePerNewton(straight, load, point);
          expect(pressurePerNewton(turned, turn(load), turn(point))).toBeCloseTo(here, 9);
          expect(pressurePerNewton(straight, point, load)).toBeCloseTo(here, 12);
          expect(pressurePerNewton(straight, load, straight.centroid) * straight.areaMm2).toBeCloseTo(1, 9);
        },
      ),
      { seed },
    );
  });

  it('two areas taken together have the moments of the one they make up', () => {
    const whole = plate(100, 40).moments;
    const parts = momentsOfBoth(plate(30, 40, -35).moments, plate(70, 40, 15).moments);
    expect(parts.areaMm2).toBeCloseTo(whole.areaMm2, 9);
    expect(parts.centroid.x).toBeCloseTo(0, 9);
    expect(parts.iyyMm4).toBeCloseTo(whole.iyyMm4, 6);
    expect(parts.ixxMm4).toBeCloseTo(whole.ixxMm4, 6);
    expect(
      closingRatio(parts, rectangle({ x: 0, y: 0, widthMm: 10, heightMm: 10 }), ORIGIN).ratio,
    ).toBeCloseTo(1, 9);
  });

  it('a part taken away leaves the rest, and turning moments is turning the shape', () => {
    const { moments: rest } = plate(70, 40, 15);
    const left = momentsWithout(plate(100, 40).moments, plate(30, 40, -35).moments);
    expect(left.iyyMm4).toBeCloseTo(rest.iyyMm4, 6);
    expect(left.centroid.x).toBeCloseTo(15, 9);
    const angle = 0.7;
    const turn = ({ x, y }: { x: number; y: number }) => ({
      x: x * Math.cos(angle) - y * Math.sin(angle),
      y: x * Math.sin(angle) + y * Math.cos(angle),
    });
    const lopsided = [
      { x: 0, y: 0 },
      { x: 50, y: 0 },
      { x: 10, y: 30 },
    ];
    const whole = momentsOf([lopsided]);
    const turned = momentsOf([lopsided.map(turn)]);
    const expected = turnedMoments(whole, angle, turn(whole.centroid));
    expect(expected.ixxMm4).toBeCloseTo(turned.ixxMm4, 6);
    expect(expected.iyyMm4).toBeCloseTo(turned.iyyMm4, 6);
    expect(expected.ixyMm4).toBeCloseTo(turned.ixyMm4, 6);
  });
});
