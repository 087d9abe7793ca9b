import { describe, expect, it } from 'vitest';
import type { Cavity } from '../../../server/engineering/drawing/measured-drawing.js';
import { circleRing } from '../../../server/engineering/geometry/arc.js';
import { areaOf } from '../../../server/engineering/geometry/area.js';
import type { Region, Ring } from '../../../server/engineering/geometry/point.js';
import { flowReach } from '../../../server/engineering/melt/flow-reach.js';
import { thickestSection } from '../../../server/engineering/melt/thickest-section.js';
import { rectangle } from '../../support/hand-drawing.js';

const cavity = (region: Region, ...levels: readonly { depthMm: number; region: Region }[]): Cavity => ({
  region,
  levels: levels.map((level) => ({ ...level, areaMm2: areaOf(level.region) })),
  areaMm2: areaOf(region),
  volumeMm3: 0,
  maxDepthMm: Math.max(...levels.map(({ depthMm }) => depthMm)),
  centroid: { x: 0, y: 0 },
  widthMm: 0,
  heightMm: 0,
});
const flat = (region: Region, depthMm: number) => cavity(region, { depthMm, region });
const ring = (...points: readonly (readonly [number, number])[]): Ring => points.map(([x, y]) => ({ x, y }));

describe('how far melt runs in a cavity', () => {
  it('is the diagonal of a rectangle gated in a corner, over its depth', () => {
    const reach = flowReach(flat([rectangle({ x: 0, y: 0, widthMm: 40, heightMm: 30 })], 2.5), [
      { x: -20, y: -15 },
    ]);
    expect(reach?.lengthMm).toBeCloseTo(50, 6);
    expect(reach?.ratio).toBeCloseTo(20, 6);
    expect(reach?.at).toEqual({ x: 20, y: 15 });
  });

  it('is half of it from a gate at either end', () => {
    const strip = flat([rectangle({ x: 0, y: 0, widthMm: 40, heightMm: 3 })], 2);
    const reach = flowReach(strip, [
      { x: -20, y: 0 },
      { x: 20, y: 0 },
    ]);
    expect(reach?.lengthMm ?? NaN).toBeGreaterThan(19);
    expect(reach?.lengthMm ?? NaN).toBeLessThan(21.5);
  });

  it('goes round the inner corner of an angle', () => {
    const angle = ring([0, 0], [40, 0], [40, 10], [10, 10], [10, 40], [0, 40]);
    const reach = flowReach(flat([angle], 2), [{ x: 40, y: 10 }]);
    // Along the inner side to the corner at (10, 10), then straight to the far corner of the other leg.
    const exactMm = 30 + Math.hypot(10, 30);
    expect(reach?.lengthMm ?? NaN).toBeGreaterThan(0.96 * exactMm);
    expect(reach?.lengthMm ?? NaN).toBeLessThan(1.04 * exactMm);
  });

  it('goes round an island', () => {
    const island = [...circleRing({ x: 0, y: 0 }, 20)].reverse();
    const reach = flowReach(flat([circleRing({ x: 0, y: 0 }, 30), island], 3), [{ x: -15, y: 0 }]);
    // A tangent to the island, an arc along it, a tangent to the far rim: the shortest way to the far side.
    const tangentMm = Math.sqrt(15 ** 2 - 10 ** 2);
    const exactMm = 2 * tangentMm + 10 * (Math.PI - 2 * Math.acos(10 / 15));
    expect(reach?.lengthMm ?? NaN).toBeGreaterThan(0.95 * exactMm);
    expect(reach?.lengthMm ?? NaN).toBeLessThan(1.05 * exactMm);
  });

  it('adds up each stretch by its own depth', () => {
    const [left, right] = [
      [rectangle({ x: -10, y: 0, widthMm: 20, heightMm: 4 })],
      [rectangle({ x: 10, y: 0, widthMm: 20, heightMm: 4 })],
    ];
    const whole = [rectangle({ x: 0, y: 0, widthMm: 40, heightMm: 4 })];
    const stepped = cavity(whole, { depthMm: 1, region: right }, { depthMm: 2, region: left });
    const reach = flowReach(stepped, [{ x: -20, y: 0 }]);
    // 20 mm at 2 mm and 20 mm at 1 mm.
    expect(reach?.ratio ?? NaN).toBeGreaterThan(0.95 * 30);
    expect(reach?.ratio ?? NaN).toBeLessThan(1.05 * 30);
  });

  it('is nothing without an inlet', () => {
    expect(flowReach(flat([rectangle({ x: 0, y: 0, widthMm: 4, heightMm: 4 })], 1), [])).toBeNull();
  });
});

describe('where a cavity is thickest', () => {
  it('is its depth where it is wider than deep, its width where it is deeper', () => {
    const slab = thickestSection(flat([rectangle({ x: 0, y: 0, widthMm: 40, heightMm: 30 })], 2.5));
    expect(slab.thicknessMm).toBe(2.5);
    expect(slab.widthMm).toBeCloseTo(30, 6);
    const rib = thickestSection(flat([rectangle({ x: 0, y: 0, widthMm: 40, heightMm: 1.5 })], 6));
    expect(rib.thicknessMm).toBeCloseTo(1.5, 6);
  });

  it('looks over every depth: a deep narrow groove in a plain floor may count less than the floor', () => {
    const groove = [rectangle({ x: 0, y: 0, widthMm: 30, heightMm: 1 })];
    const floor = [
      rectangle({ x: 0, y: 0, widthMm: 40, heightMm: 20 }),
      [...rectangle({ x: 0, y: 0, widthMm: 30, heightMm: 1 })].reverse(),
    ];
    const whole = [rectangle({ x: 0, y: 0, widthMm: 40, heightMm: 20 })];
    const section = thickestSection(
      cavity(whole, { depthMm: 2, region: floor }, { depthMm: 8, region: groove }),
    );
    expect(section.thicknessMm).toBeCloseTo(2, 6);
  });
});
