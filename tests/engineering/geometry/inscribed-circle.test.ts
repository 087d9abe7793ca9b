import { describe, expect, it } from 'vitest';
import { circleRing } from '../../../server/engineering/geometry/arc.js';
import {
  inscribedCircle,
  inscribedDiameterMm,
} from '../../../server/engineering/geometry/inscribed-circle.js';
import type { Ring } from '../../../server/engineering/geometry/point.js';

const ring = (...points: readonly (readonly [number, number])[]): Ring => points.map(([x, y]) => ({ x, y }));
const turned = (points: Ring, degrees: number): Ring => {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return points.map(({ x, y }) => ({ x: 900 + c * x - s * y, y: -40 + s * x + c * y }));
};

/** Euclid, Elements IV.4: the inradius of a triangle is twice its area over its girth. */
describe('the largest circle that fits', () => {
  it('is the incircle of a 3-4-5 triangle', () => {
    const found = inscribedCircle([ring([0, 0], [4, 0], [0, 3])]);
    expect(found?.diameterMm).toBeCloseTo(2, 3);
    expect(found?.centre.x).toBeCloseTo(1, 2);
    expect(found?.centre.y).toBeCloseTo(1, 2);
  });

  it.each([0, 17, 90])('is as wide as the shorter side of a rectangle turned by %s degrees', (degrees) => {
    expect(inscribedDiameterMm([turned(ring([0, 0], [60, 0], [60, 8], [0, 8]), degrees)])).toBeCloseTo(8, 6);
  });

  it('fills the gap of a ring', () => {
    const island = [...circleRing({ x: 3, y: 5 }, 20)].reverse();
    expect(inscribedDiameterMm([circleRing({ x: 3, y: 5 }, 28), island])).toBeCloseTo(4, 1);
  });

  it('is held by the four inner corners of a cross', () => {
    const arm = (a: number): Ring => {
      const quarter: [number, number][] = [
        [20, -3],
        [20, 3],
        [3, 3],
      ];
      const spin = (x: number, y: number, k: number): [number, number] =>
        k === 0 ? [x, y] : spin(-y, x, k - 1);
      return ring(...[0, 1, 2, 3].flatMap((k) => quarter.map(([x, y]) => spin(x, y, (k + a) % 4))));
    };
    // From the middle to a corner at (3, 3).
    expect(inscribedDiameterMm([arm(0)])).toBeCloseTo(2 * Math.hypot(3, 3), 6);
  });

  it('is nothing where nothing is cut', () => {
    expect(inscribedCircle([])).toBeNull();
  });
});
