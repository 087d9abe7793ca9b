import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleRing } from '../../../server/engineering/geometry/arc.js';
import { areaOf, momentsOf, ringAreaOf } from '../../../server/engineering/geometry/area.js';
import { differenceOf, intersectionOf, unionOf } from '../../../server/engineering/geometry/boolean.js';
import { boundsOf } from '../../../server/engineering/geometry/bounds.js';
import { regionContains } from '../../../server/engineering/geometry/contains.js';
import { convexHullOf } from '../../../server/engineering/geometry/convex-hull.js';
import { croppedTo } from '../../../server/engineering/geometry/crop.js';
import {
  boundaryDistance,
  boundaryDistanceToPoint,
  distanceBetween,
  distanceToPoint,
  regionsMeet,
} from '../../../server/engineering/geometry/distance.js';
import { edgesOutside } from '../../../server/engineering/geometry/edges-outside.js';
import type { Point, Region, Ring } from '../../../server/engineering/geometry/point.js';
import { polygonsOf } from '../../../server/engineering/geometry/polygons.js';
import { selfCrossingOf } from '../../../server/engineering/geometry/self-crossing.js';
import { offsetBy, sweepPath } from '../../../server/engineering/geometry/sweep.js';
import { TooIntricate } from '../../../server/engineering/geometry/too-intricate.js';

const SEED = 20_261_125;

describe('areas put together', () => {
  const a = box(0, 0, 10, 10);
  const b = box(5, 5, 10, 10);

  it('count what overlaps once', () => {
    expect(areaOf(unionOf([a, b]))).toBeCloseTo(175, 9);
    expect(areaOf(intersectionOf(a, b))).toBeCloseTo(25, 9);
    expect(areaOf(differenceOf(a, b))).toBeCloseTo(75, 9);
    expect(areaOf(differenceOf(a, b, box(0, 0, 1, 1)))).toBeCloseTo(74, 9);
    expect(unionOf([])).toEqual([]);
    expect(intersectionOf(a, box(20, 20, 1, 1))).toEqual([]);
  });

  it('run outer rings counter-clockwise and holes clockwise', () => {
    const frame = differenceOf(a, box(2, 2, 3, 3));
    expect(frame.map((ring) => Math.sign(ringAreaOf(ring)))).toEqual([1, -1]);
    expect(areaOf(unionOf([frame, box(3, 3, 1, 1)]))).toBeCloseTo(92, 9);
    expect(areaOf(unionOf([frame, box(1, 1, 6, 6)]))).toBeCloseTo(100, 9);
  });

  it('keep a ten thousandth of a millimetre ten metres out', () => {
    const far = unionOf([box(9990, -9990, 1.0001, 1.0001), box(9990.5, -9989.5, 1, 1)]);
    expect(areaOf(far)).toBeCloseTo(1.0001 ** 2 + 1 - 0.5001 ** 2, 4);
    const { minX, maxY } = boundsOf(far);
    expect(minX).toBeCloseTo(9990, 6);
    expect(maxY).toBeCloseTo(-9988.5, 6);
  });

  it('obey the sum rule for any two shapes', () => {
    fc.assert(
      fc.property(blob(), blob(), (p, q) => {
        const both = areaOf(unionOf([p, q])) + areaOf(intersectionOf(p, q));
        expect(both).toBeCloseTo(areaOf(p) + areaOf(q), 2);
        expect(areaOf(differenceOf(p, q)) + areaOf(intersectionOf(p, q))).toBeCloseTo(areaOf(p), 2);
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  it('refuse an overlay that would never end', () => {
    expect(() => unionOf([[comb(1000, false)], [comb(1000, true)]])).toThrow(TooIntricate);
  });
});

describe('sweeps and offsets', () => {
  it('leave a cutter’s round ends on an open line and none on a closed one', () => {
    expect(
      areaOf(
        sweepPath(
          [
            { x: 0, y: 0 },
            { x: 10, y: 0 },
          ],
          2,
        ),
      ),
    ).toBeCloseTo(20 + Math.PI, 1);
    expect(areaOf(sweepPath([{ x: 3, y: 4 }], 2))).toBeCloseTo(Math.PI, 1);
    const square = box(0, 0, 10, 10)[0] as Ring;
    expect(areaOf(sweepPath(square, 2, true))).toBeCloseTo(80 - 4 + Math.PI, 1);
    expect(sweepPath(square, 2, true)).toHaveLength(2);
    expect(sweepPath([], 2)).toEqual([]);
  });

  it('are the same along a line whole or in pieces', () => {
    const path = [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 10 },
      { x: 2, y: 1 },
    ];
    const pieces = path.slice(1).map((to, i) => sweepPath([path[i] as Point, to], 3));
    expect(areaOf(unionOf(pieces))).toBeCloseTo(areaOf(sweepPath(path, 3)), 1);
  });

  it('grow with round corners and shrink with sharp ones', () => {
    expect(areaOf(offsetBy(box(0, 0, 10, 10), 1))).toBeCloseTo(100 + 40 + Math.PI, 1);
    expect(areaOf(offsetBy(box(0, 0, 10, 10), -1))).toBeCloseTo(64, 9);
    expect(offsetBy(box(0, 0, 10, 10), -6)).toEqual([]);
    expect(areaOf(offsetBy([...box(0, 0, 10, 10), hole(3, 3, 4, 4)], 1))).toBeCloseTo(140 + Math.PI - 4, 1);
  });
});

describe('moments', () => {
  it('are those of the handbook for a rectangle, a ring and a right triangle', () => {
    // b h³ / 12; pi (D⁴ - d⁴) / 64; b h³ / 36 and -b² h² / 72: elementary statics.
    const rectangle = momentsOf(box(7, -3, 6, 4));
    expect(rectangle).toMatchObject({ areaMm2: 24, centroid: { x: 10, y: -1 } });
    expect(rectangle.ixxMm4).toBeCloseTo((6 * 4 ** 3) / 12, 9);
    expect(rectangle.iyyMm4).toBeCloseTo((4 * 6 ** 3) / 12, 9);
    expect(rectangle.ixyMm4).toBeCloseTo(0, 9);
    const ring = momentsOf([circleRing({ x: 50, y: 9 }, 20), [...circleRing({ x: 50, y: 9 }, 10)].reverse()]);
    expect(ring.ixxMm4 / ((Math.PI * (20 ** 4 - 10 ** 4)) / 64)).toBeCloseTo(1, 2);
    const triangle = momentsOf([
      [
        { x: 0, y: 0 },
        { x: 6, y: 0 },
        { x: 0, y: 3 },
      ],
    ]);
    expect(triangle.ixxMm4).toBeCloseTo((6 * 3 ** 3) / 36, 9);
    expect(triangle.ixyMm4).toBeCloseTo(-(36 * 9) / 72, 9);
  });

  it('stay the same ten metres away', () => {
    const near = momentsOf([LETTER_L]);
    const far = momentsOf([LETTER_L.map(({ x, y }) => ({ x: x + 9876, y: y - 8765 }))]);
    for (const key of ['areaMm2', 'ixxMm4', 'iyyMm4', 'ixyMm4'] as const)
      expect(far[key]).toBeCloseTo(near[key], 6);
    expect(far.centroid.x - near.centroid.x).toBeCloseTo(9876, 9);
    expect(momentsOf([]).areaMm2).toBe(0);
  });
});

describe('distances', () => {
  it('are those of the nearest edges, with both places', () => {
    expect(distanceBetween(box(0, 0, 1, 1), box(4, 5, 1, 1))).toEqual({
      distanceMm: 5,
      from: { x: 1, y: 1 },
      to: { x: 4, y: 5 },
    });
    expect(distanceBetween(box(0, 0, 10, 1), box(4, 3, 1, 1))?.distanceMm).toBe(2);
    expect(distanceBetween(box(0, 0, 1, 1), [])).toBeNull();
  });

  it('are nothing where areas touch, cross or hold one another', () => {
    for (const other of [
      box(1, 0, 1, 1),
      box(0.5, 0.5, 1, 1),
      box(0.2, 0.2, 0.1, 0.1),
      box(-5, -5, 20, 20),
    ]) {
      expect(distanceBetween(box(0, 0, 1, 1), other)?.distanceMm).toBe(0);
      expect(regionsMeet(box(0, 0, 1, 1), other)).toBe(true);
    }
    const frame = [...box(0, 0, 10, 10), hole(2, 2, 6, 6)];
    expect(distanceBetween(frame, box(4, 4, 1, 1))?.distanceMm).toBe(2);
    expect(regionsMeet(frame, box(4, 4, 1, 1))).toBe(false);
  });

  it('to an outline do not care what is inside', () => {
    expect(boundaryDistance(box(4, 3, 1, 1), box(0, 0, 10, 10))?.distanceMm).toBe(3);
    expect(boundaryDistance([], box(0, 0, 10, 10))).toBeNull();
  });

  it('to a point are nothing inside', () => {
    expect(distanceToPoint(box(0, 0, 2, 2), { x: 5, y: 6 })?.distanceMm).toBe(5);
    expect(distanceToPoint(box(0, 0, 2, 2), { x: 1, y: 1 })?.distanceMm).toBe(0);
  });

  it('agree with every edge held against every other', () => {
    fc.assert(
      fc.property(blob(), blob(), fc.double({ min: -60, max: 60, noNaN: true }), (p, q, shift) => {
        const moved = q.map((ring) => ring.map(({ x, y }) => ({ x: x + shift, y })));
        const found = boundaryDistance(p, moved);
        const nearest = slowDistance(p, moved);
        expect(found?.distanceMm).toBeCloseTo(nearest, 9);
        const [from, to] = [found?.from as Point, found?.to as Point];
        expect(Math.hypot(from.x - to.x, from.y - to.y)).toBeCloseTo(nearest, 9);
        expect(regionsMeet(p, moved)).toBe(distanceBetween(p, moved)?.distanceMm === 0);
      }),
      { seed: SEED, numRuns: 150 },
    );
  });

  it('to a point agree with every edge held against it', () => {
    const place = fc.double({ min: -60, max: 60, noNaN: true });
    fc.assert(
      fc.property(blob(), place, place, (p, x, y) => {
        const found = boundaryDistanceToPoint(p, { x, y });
        const nearest = slowDistance(p, [[{ x, y }]]);
        expect(found?.distanceMm).toBeCloseTo(nearest, 9);
        expect(found?.to).toEqual({ x, y });
        expect(Math.hypot((found?.from.x ?? 0) - x, (found?.from.y ?? 0) - y)).toBeCloseTo(nearest, 9);
      }),
      { seed: SEED, numRuns: 150 },
    );
    expect(boundaryDistanceToPoint([], { x: 0, y: 0 })).toBeNull();
  });
});

describe('edges outside boxes', () => {
  const everywhere = { minX: -1e6, minY: -1e6, maxX: 1e6, maxY: 1e6 };

  it('are what no box covers, to their whole length', () => {
    const edges = edgesOutside(box(0, 0, 10, 10), everywhere, [
      { minX: -1, minY: -1, maxX: 4, maxY: 4 },
      { minX: 6, minY: -1, maxX: 7, maxY: 1 },
    ]);
    const total = edges.reduce((sum, [a, b]) => sum + Math.hypot(a.x - b.x, a.y - b.y), 0);
    expect(total).toBeCloseTo(40 - 8 - 1, 9);
    expect(edgesOutside(box(0, 0, 10, 10), { minX: 20, minY: 0, maxX: 30, maxY: 10 }, [])).toEqual([]);
  });

  it('lie along the outline, in no box, and miss no more of it than the boxes hold', () => {
    const side = fc.double({ min: -40, max: 40, noNaN: true });
    const boxes = fc.array(fc.tuple(side, side, side, side), { maxLength: 4 });
    fc.assert(
      fc.property(blob(), boxes, (p, sides) => {
        const out = sides.map(([a, b, c, d]) => ({
          ...{ minX: Math.min(a, b), maxX: Math.max(a, b), minY: Math.min(c, d), maxY: Math.max(c, d) },
        }));
        for (const [a, b] of edgesOutside(p, everywhere, out)) {
          const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
          expect(slowDistance(p, [[middle]])).toBeLessThan(1e-9);
          for (const { minX, maxX, minY, maxY } of out) {
            const inside = Math.min(middle.x - minX, maxX - middle.x, middle.y - minY, maxY - middle.y);
            expect(inside).toBeLessThan(1e-9);
          }
        }
      }),
      { seed: SEED, numRuns: 150 },
    );
  });
});

describe('shapes', () => {
  it('hold the points within their outline and outside their holes', () => {
    const frame = [...box(0, 0, 10, 10), hole(2, 2, 6, 6)];
    expect(
      [
        { x: 1, y: 1 },
        { x: 5, y: 5 },
        { x: 11, y: 5 },
      ].map((at) => regionContains(frame, at)),
    ).toEqual([true, false, false]);
  });

  it('have a convex hull that holds every point', () => {
    const points = [...LETTER_L, { x: 1, y: 1 }, { x: 1, y: 1 }];
    expect(convexHullOf(points)).toEqual([
      { x: 0, y: 0 },
      { x: 6, y: 0 },
      { x: 6, y: 1 },
      { x: 1, y: 5 },
      { x: 0, y: 5 },
    ]);
    expect(convexHullOf([{ x: 1, y: 1 }])).toHaveLength(1);
  });

  it('fall apart into connected polygons, each with its own holes', () => {
    const frame = [...box(0, 0, 10, 10), hole(2, 2, 6, 6)];
    const parts = polygonsOf([...frame, ...box(3, 3, 4, 4), hole(4, 4, 2, 2), ...box(20, 0, 1, 1)]);
    expect(parts.map(areaOf).sort((p, q) => p - q)).toEqual([1, 12, 64]);
    expect(polygonsOf([])).toEqual([]);
  });

  it('lose nothing of what lies in a box when cropped to it', () => {
    fc.assert(
      fc.property(blob(), blob(), (p, q) => {
        const cropped = croppedTo(q, boundsOf(p));
        expect(areaOf(differenceOf(p, cropped))).toBeCloseTo(areaOf(differenceOf(p, q)), 2);
      }),
      { seed: SEED, numRuns: 100 },
    );
  });
});

describe('self-crossing', () => {
  it('is found with its place', () => {
    const bow = [
      { x: 0, y: 0 },
      { x: 10, y: 10 },
      { x: 10, y: 0 },
      { x: 0, y: 10 },
    ];
    expect(selfCrossingOf(bow)).toEqual({ x: 5, y: 5 });
    const star = [0, 2, 4, 1, 3].map((k) => ({
      x: Math.cos((k * 2 * Math.PI) / 5),
      y: Math.sin((k * 2 * Math.PI) / 5),
    }));
    expect(selfCrossingOf(star)).not.toBeNull();
  });

  it('is not seen in a ring that touches itself, repeats a point or turns back on itself', () => {
    const pinched = [
      { x: 0, y: 0 },
      { x: 5, y: 4 },
      { x: 10, y: 0 },
      { x: 10, y: 8 },
      { x: 5, y: 4 },
      { x: 0, y: 8 },
    ];
    const spiked = [
      { x: 0, y: 0 },
      { x: 5, y: 0 },
      { x: 5, y: -3 },
      { x: 5, y: 0 },
      { x: 10, y: 0 },
      { x: 5, y: 9 },
    ];
    for (const ring of [LETTER_L, pinched, spiked, circleRing({ x: 0, y: 0 }, 50)]) {
      expect(selfCrossingOf(ring)).toBeNull();
      expect(selfCrossingOf([...ring, ring[0] as Point])).toBeNull();
    }
  });

  it('is seen where strands cross in a shared corner', () => {
    const crossed = [
      { x: 0, y: 0 },
      { x: 5, y: 4 },
      { x: 10, y: 8 },
      { x: 10, y: 0 },
      { x: 5, y: 4 },
      { x: 0, y: 8 },
    ];
    expect(selfCrossingOf(crossed)).toEqual({ x: 5, y: 4 });
  });

  it('is forgiven in a loop no longer than said', () => {
    const looped = [
      { x: 0, y: 0 },
      { x: 10.01, y: 0 },
      { x: 10.01, y: 0.01 },
      { x: 10, y: -0.01 },
      { x: 10, y: 9 },
    ];
    expect(selfCrossingOf(looped)).not.toBeNull();
    expect(selfCrossingOf(looped, 0.1)).toBeNull();
  });

  it('agrees with every edge held against every other', () => {
    const points = fc.array(
      fc.record({ x: fc.integer({ min: 0, max: 1000 }), y: fc.integer({ min: 0, max: 1000 }) }),
      {
        minLength: 4,
        maxLength: 40,
      },
    );
    fc.assert(
      fc.property(points, fc.boolean(), (drawn, around) => {
        const ring = around ? [...drawn].sort((p, q) => angle(p) - angle(q)) : drawn;
        if (slowCrossing(ring)) expect(selfCrossingOf(ring)).not.toBeNull();
      }),
      { seed: SEED, numRuns: 300 },
    );
  });
});

const LETTER_L: Ring = [
  { x: 0, y: 0 },
  { x: 6, y: 0 },
  { x: 6, y: 1 },
  { x: 1, y: 1 },
  { x: 1, y: 5 },
  { x: 0, y: 5 },
];

function box(x: number, y: number, width: number, height: number): Region {
  return [
    [
      { x, y },
      { x: x + width, y },
      { x: x + width, y: y + height },
      { x, y: y + height },
    ],
  ];
}

function hole(x: number, y: number, width: number, height: number): Ring {
  return [...(box(x, y, width, height)[0] as Ring)].reverse();
}

/** A star-shaped outline of up to 40 corners round a random middle. */
function blob() {
  return fc
    .record({
      x: fc.double({ min: -20, max: 20, noNaN: true }),
      y: fc.double({ min: -20, max: 20, noNaN: true }),
      radii: fc.array(fc.double({ min: 1, max: 20, noNaN: true }), { minLength: 3, maxLength: 40 }),
    })
    .map(
      ({ x, y, radii }): Region => [
        radii.map((radius, i) => {
          const turn = (2 * Math.PI * i) / radii.length;
          return { x: x + radius * Math.cos(turn), y: y + radius * Math.sin(turn) };
        }),
      ],
    );
}

/** Teeth side by side; two of them crosswise meet everywhere. */
function comb(teeth: number, upright: boolean): Ring {
  const pitch = 100 / teeth;
  const points = Array.from({ length: teeth }, (_, i) => [
    { x: i * pitch, y: 1 },
    { x: i * pitch, y: 100 },
    { x: (i + 0.5) * pitch, y: 100 },
    { x: (i + 0.5) * pitch, y: 1 },
  ]).flat();
  const ring = [...points, { x: 100, y: 1 }, { x: 100, y: 0 }, { x: 0, y: 0 }];
  return upright ? ring.map(({ x, y }) => ({ x: y, y: x })) : ring.reverse();
}

function edgesOf(ring: Ring): (readonly [Point, Point])[] {
  return ring.map((point, i) => [point, ring[(i + 1) % ring.length] as Point]);
}

function slowDistance(a: Region, b: Region): number {
  let nearest = Infinity;
  for (const [p1, p2] of a.flatMap(edgesOf)) {
    for (const [q1, q2] of b.flatMap(edgesOf)) {
      if (properlyCross(p1, p2, q1, q2)) return 0;
      nearest = Math.min(
        nearest,
        toSegment(p1, q1, q2),
        toSegment(p2, q1, q2),
        toSegment(q1, p1, p2),
        toSegment(q2, p1, p2),
      );
    }
  }
  return nearest;
}

function toSegment(p: Point, a: Point, b: Point): number {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  if (length === 0) return Math.hypot(p.x - a.x, p.y - a.y);
  const along = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
  const across = Math.abs((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) / length;
  if (along < 0) return Math.hypot(p.x - a.x, p.y - a.y);
  return along > length ? Math.hypot(p.x - b.x, p.y - b.y) : across;
}

function slowCrossing(ring: Ring): boolean {
  const edges = edgesOf(ring);
  return edges.some(([p1, p2], i) => edges.some(([q1, q2], j) => j > i && properlyCross(p1, p2, q1, q2)));
}

function properlyCross(p1: Point, p2: Point, q1: Point, q2: Point): boolean {
  const side = (a: Point, b: Point, c: Point) =>
    Math.sign((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x));
  return side(q1, q2, p1) * side(q1, q2, p2) < 0 && side(p1, p2, q1) * side(p1, p2, q2) < 0;
}

function angle({ x, y }: Point): number {
  return Math.atan2(y - 500, x - 500);
}
