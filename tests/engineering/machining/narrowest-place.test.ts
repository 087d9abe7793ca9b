import { describe, expect, it } from 'vitest';
import { circleRing } from '../../../server/engineering/geometry/arc.js';
import { unionOf } from '../../../server/engineering/geometry/boolean.js';
import type { Point, Region, Ring } from '../../../server/engineering/geometry/point.js';
import { sweepPath } from '../../../server/engineering/geometry/sweep.js';
import { insideCorners, staysMm } from '../../../server/engineering/machining/inside-corners.js';
import { narrowestPlace } from '../../../server/engineering/machining/narrowest-place.js';
import { rimOf } from '../../../server/engineering/machining/rim.js';
import { rasterOpening } from './raster-opening.js';

const nowhere = () => false;

function box(x1: number, y1: number, x2: number, y2: number): Ring {
  return [
    { x: x1, y: y1 },
    { x: x2, y: y1 },
    { x: x2, y: y2 },
    { x: x1, y: y2 },
  ];
}

function widthOf(region: Region, mostMm = 8) {
  return narrowestPlace(rimOf(region, []), mostMm, nowhere);
}

const NECK = unionOf([[box(0, 0, 12, 12)], [box(10, 5, 22, 7.3)], [box(20, 0, 32, 12)]]);
const SLANTED = sweepPath(
  [
    { x: 0, y: 0 },
    { x: 14, y: 9 },
  ],
  3.1,
);
const GROOVE: Region = [circleRing({ x: 0, y: 0 }, 20), circleRing({ x: 0, y: 0 }, 14.8).toReversed()];
/** Two corners that come within 1.7 mm of one another, with room on both sides. */
const PINCH: Region = [
  [
    ...[
      { x: 0, y: 0 },
      { x: 10, y: 4 },
      { x: 20, y: 0 },
    ],
    ...[
      { x: 20, y: 12 },
      { x: 10, y: 5.7 },
      { x: 0, y: 12 },
    ],
  ],
];
const TRIANGLE: Region = [
  [
    { x: 0, y: 0 },
    { x: 3, y: 0 },
    { x: 1.5, y: (3 * Math.sqrt(3)) / 2 },
  ],
];

describe('the narrowest place of a cut', () => {
  it.each<[string, Region, number]>([
    ['a neck between two pockets', NECK, 2.3],
    ['a channel swept at a slant', SLANTED, 3.1],
    ['a ring groove: 10 - 7.4', GROOVE, 2.6],
    ['two corners that come near: 5.7 - 4', PINCH, 1.7],
    ['a triangle, small all over: 3 / √3 across its inscribed circle', TRIANGLE, Math.sqrt(3)],
  ])('%s', (_, region, widthMm) => {
    expect(Math.abs((widthOf(region)?.widthMm ?? Number.NaN) - widthMm)).toBeLessThan(0.03);
  });

  it.each<[string, Region]>([
    ['a neck', NECK],
    ['a slanted channel', SLANTED],
    ['a groove', GROOVE],
  ])(
    '%s is where a cutter a little thicker no longer gets by brute force, and a thinner one does',
    (_, region) => {
      const place = widthOf(region);
      if (place === null) throw new Error('no narrow place');
      const STEP = 0.05;
      expect(rasterOpening(region, place.widthMm - 3 * STEP, STEP)(place.at)).toBe(true);
      expect(rasterOpening(region, place.widthMm + 5 * STEP, STEP)(place.at)).toBe(false);
    },
  );

  it('is none in a pocket with room, whatever its corners', () => {
    expect(widthOf([box(0, 0, 30, 20)])).toBeNull();
    expect(widthOf([circleRing({ x: 0, y: 0 }, 9)])).toBeNull();
  });

  it('an end that is open into a deeper cut is no wall', () => {
    const gate: Region = [box(0, 0, 1, 3)];
    expect(widthOf(gate)?.widthMm).toBeCloseTo(1, 2);
    const deeper = ({ x }: Point) => x < 0 || x > 1;
    expect(narrowestPlace(rimOf(gate, []), 8, deeper)?.widthMm).toBeCloseTo(3, 2);
  });

  it('a deeper level beside it is no wall either', () => {
    const shallow: Region = [box(0, 0, 1, 10)];
    const deep: Region = [box(1, 0, 12, 10)];
    expect(narrowestPlace(rimOf(shallow, []), 8, nowhere)?.widthMm).toBeCloseTo(1, 2);
    expect(narrowestPlace(rimOf(shallow, [deep]), 8, nowhere)).toBeNull();
  });
});

describe('inside corners', () => {
  it.each<[string, Region, number, number]>([
    ['a rectangle: (√2 - 1) r', [box(0, 0, 30, 20)], 4, Math.SQRT2 - 1],
    ['an equilateral triangle: r', [TRIANGLE[0]?.map(({ x, y }) => ({ x: 10 * x, y: 10 * y })) ?? []], 3, 1],
  ])('%s stays in each', (_, region, count, perRadius) => {
    const corners = insideCorners(rimOf(region, []), 2, nowhere);
    expect(corners).toHaveLength(count);
    const [corner] = corners;
    expect(corner && staysMm(corner, 1.5)).toBeCloseTo(1.5 * perRadius, 6);
  });

  it('what stays is what brute force leaves', () => {
    const STEP = 0.02;
    const reached = rasterOpening([box(0, 0, 6, 6)], 2, STEP);
    let along = 0;
    while (!reached({ x: along / Math.SQRT2, y: along / Math.SQRT2 })) along += STEP / 4;
    expect(Math.abs(along - (Math.SQRT2 - 1))).toBeLessThan(3 * STEP);
  });

  it('a rounded corner keeps its radius, and a thinner cutter leaves nothing in it', () => {
    const rounded = [sweepPath(box(3, 3, 27, 17), 3, true)[0] ?? []];
    const corners = insideCorners(rimOf(rounded, []), 2, nowhere);
    expect(corners).toHaveLength(4);
    for (const corner of corners) {
      // Told from few chords, and rather too sharp than too round.
      expect(Math.abs(corner.radiusMm - 1.5)).toBeLessThan(0.2);
      expect(staysMm(corner, 1.3)).toBe(0);
    }
  });

  it('an island has none: a cutter goes round it', () => {
    const island: Region = [box(0, 0, 30, 30), box(12, 12, 18, 18).toReversed()];
    expect(insideCorners(rimOf(island, []), 2, nowhere)).toHaveLength(4);
  });
});
