import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import type { DrawnWay, MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import type { Point } from '../../../server/engineering/geometry/point.js';
import { sweepPath } from '../../../server/engineering/geometry/sweep.js';
import { feedSystem } from '../../../server/engineering/melt/feed-system.js';
import { handDrawing, rectangle } from '../../support/hand-drawing.js';

const channel = (
  feature: 'RUNNER' | 'GATE',
  depthMm: number,
  widthMm: number,
  ...path: readonly (readonly [number, number])[]
): DrawnWay => ({ kind: 'channel', feature, depthMm, widthMm, path: path.map(([x, y]) => ({ x, y })) });

/** Two cavities of 20 x 10 mm, their near sides 20 mm to the right and left of a feed of 4 mm. */
const twoCavities = (ways: readonly DrawnWay[]): MeasuredDrawing => {
  const plate = { x: 0, y: 0, widthMm: 140, heightMm: 100 };
  const pocket = { y: 0, widthMm: 20, heightMm: 10, depthMm: 3 };
  const drawing = handDrawing({
    plate,
    cavities: [
      { ...pocket, x: 30 },
      { ...pocket, x: -30 },
    ],
  });
  const runners = ways.filter(({ feature }) => feature === 'RUNNER');
  const region = runners.flatMap((way) =>
    way.kind === 'channel' ? sweepPath(way.path, way.widthMm) : [way.ring],
  );
  const RUNNER = { region, areaMm2: 0, volumeMm3: 0, maxDepthMm: 3, levels: [] };
  return { ...drawing, ways, features: { ...drawing.features, RUNNER } };
};

const RUNNER = channel('RUNNER', 3, 5, [-14, 0], [14, 0]);
const GATES = [channel('GATE', 1, 2, [14, 0], [21, 0]), channel('GATE', 0.8, 3, [-14, 0], [-21, 0])];

describe('the feed system of a drawing', () => {
  it('leads along the drawn lines from the middle of the feed to each cavity', () => {
    const { inlets, unreached, blindGates } = feedSystem(twoCavities([RUNNER, ...GATES]));
    expect(inlets.map((own) => own.length)).toEqual([1, 1]);
    const right = inlets[0]?.[0];
    expect(right).toMatchObject({ feature: 'GATE', depthMm: 1, widthMm: 2 });
    expect(right?.at.x).toBeCloseTo(20, 6);
    expect(right?.wayMm).toBeCloseTo(20, 6);
    // The runner's round end reaches to 14 + 2.5; the gate's land is what is left up to the rim at 20.
    expect(right?.landMm).toBeCloseTo(3.5, 2);
    expect(
      right?.stretches.map(({ feature, lengthMm }) => [feature, Math.round(lengthMm * 100) / 100]),
    ).toEqual([
      ['FEED', 2],
      ['RUNNER', 12],
      ['GATE', 6],
    ]);
    expect(inlets[1]?.[0]).toMatchObject({ depthMm: 0.8, widthMm: 3 });
    expect([unreached, blindGates]).toEqual([[], []]);
  });

  it('takes the shorter way round a loop', () => {
    const loop = channel('RUNNER', 3, 4, [0, -15], [14, -15], [14, 15], [-14, 15], [-14, -15], [0, -15]);
    const stem = channel('RUNNER', 3, 4, [0, 0], [0, -15]);
    const { inlets } = feedSystem(twoCavities([stem, loop, ...GATES]));
    // Down the stem, along the foot, up the side, through the gate: 15 + 14 + 15 + 6.
    expect(inlets[0]?.[0]?.wayMm).toBeCloseTo(50, 6);
    expect(inlets[1]?.[0]?.wayMm).toBeCloseTo(50, 6);
  });

  it('goes through a pocket drawn as a contour', () => {
    const pocket: DrawnWay = {
      kind: 'pocket',
      feature: 'GATE',
      depthMm: 0.9,
      ring: rectangle({ x: 17, y: 0, widthMm: 8, heightMm: 4 }),
    };
    const { inlets } = feedSystem(twoCavities([RUNNER, pocket]));
    expect(inlets[0]?.[0]).toMatchObject({ feature: 'GATE', depthMm: 0.9 });
    expect(inlets[0]?.[0]?.widthMm).toBeCloseTo(4, 3);
    expect(inlets[1]).toEqual([]);
  });

  it('tells a runner that opens straight into a cavity from a gate', () => {
    const { inlets } = feedSystem(twoCavities([channel('RUNNER', 3, 5, [0, 0], [25, 0])]));
    expect(inlets[0]?.[0]).toMatchObject({ feature: 'RUNNER', landMm: 0 });
    expect(inlets[0]?.[0]?.wayMm).toBeCloseTo(20, 6);
  });

  it('tells a runner that does not start at the feed, and what hangs on it', () => {
    const away = channel('RUNNER', 3, 5, [8, 0], [14, 0]);
    const { inlets, unreached } = feedSystem(twoCavities([away, ...GATES]));
    expect(inlets).toEqual([[], []]);
    expect(unreached.map(({ feature }) => feature).sort()).toEqual(['GATE', 'GATE', 'RUNNER']);
  });

  it('tells a gate that reaches no cavity', () => {
    const short = channel('GATE', 1, 2, [14, 0], [18, 0]);
    const { inlets, blindGates } = feedSystem(twoCavities([RUNNER, short]));
    expect(inlets[0]).toEqual([]);
    expect(blindGates.map(({ at }) => at)).toEqual([{ x: 14, y: 0 }]);
  });

  it('gives a cavity both of its gates', () => {
    const second = channel('GATE', 1, 2, [14, 0], [14, 4], [21, 4]);
    const { inlets } = feedSystem(twoCavities([RUNNER, ...GATES, second]));
    expect(inlets[0]?.map(({ at }) => at.y)).toEqual([0, 4]);
    expect(inlets[0]?.[1]?.wayMm).toBeCloseTo(24, 6);
  });

  it('reads the same from a drawing that is moved and turned', () => {
    const turn = ({ x, y }: Point): Point => ({ x: 300 - 0.6 * x - 0.8 * y, y: 70 + 0.8 * x - 0.6 * y });
    const plain = twoCavities([RUNNER, ...GATES]);
    const turned: MeasuredDrawing = {
      ...plain,
      feed: { ...plain.feed, at: turn(plain.feed.at) },
      ways: plain.ways.map((way) => (way.kind === 'channel' ? { ...way, path: way.path.map(turn) } : way)),
      cavities: plain.cavities.map((cavity) => ({
        ...cavity,
        region: cavity.region.map((ring) => ring.map(turn)),
      })),
      features: {
        ...plain.features,
        RUNNER: plain.features.RUNNER && {
          ...plain.features.RUNNER,
          region: plain.features.RUNNER.region.map((ring) => ring.map(turn)),
        },
      },
    };
    const [here, there] = [feedSystem(plain), feedSystem(turned)];
    for (const [i, own] of here.inlets.entries()) {
      expect(there.inlets[i]?.[0]?.wayMm).toBeCloseTo(own[0]?.wayMm ?? NaN, 4);
      expect(there.inlets[i]?.[0]?.landMm).toBeCloseTo(own[0]?.landMm ?? NaN, 2);
    }
  });
});

const sample = (name: string) =>
  measureDxf(readFileSync(join(import.meta.dirname, '../../samples', `${name}.dxf`)), {
    sprueDiameterMm: 3.5,
  });

describe('the samples', () => {
  it.each([
    ['tile-spacer-4up', 4, 34],
    ['plant-tag-end-fed', 1, 20],
    ['tiny-token', 1, 8],
    ['loop-runner', 4, 40],
  ])(
    '%s: every one of its %s cavities has one gate, the nearest %s mm from the feed',
    (name, count, nearestMm) => {
      const { inlets, unreached, blindGates } = feedSystem(sample(name));
      expect(inlets.map((own) => own.map(({ feature }) => feature))).toEqual(Array(count).fill(['GATE']));
      expect(Math.min(...inlets.map(([first]) => first?.wayMm ?? NaN))).toBeCloseTo(nearestMm, 1);
      expect([unreached, blindGates]).toEqual([[], []]);
    },
  );

  it('unequal-gates: gates 10, 38, 24 and 56 mm along the runner, the second the shallow one', () => {
    const gates = feedSystem(sample('unequal-gates')).inlets.map(([gate]) => gate);
    const along = gates.map((gate) =>
      Math.round(
        (gate?.stretches ?? [])
          .filter(({ feature }) => feature !== 'GATE')
          .reduce((sum, s) => sum + s.lengthMm, 0),
      ),
    );
    expect(along.toSorted((a, b) => a - b)).toEqual([10, 24, 38, 56]);
    expect(gates.filter((gate) => gate?.depthMm === 0.3).length).toBe(1);
    expect(gates[along.indexOf(38)]?.depthMm).toBe(0.3);
  });

  it('deep-cap: the one cavity is fed from both sides of its core', () => {
    const [cap] = feedSystem(sample('deep-cap')).inlets;
    expect(cap?.map(({ wayMm }) => Math.round(wayMm * 10) / 10)).toEqual([16.5, 16.5]);
  });
});
