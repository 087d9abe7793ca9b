import { describe, expect, it } from 'vitest';
import type { DrawnWay, MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import { checkFeedOnSprue } from '../../../server/engineering/fit/check-feed-on-sprue.js';
import { registerPlate } from '../../../server/engineering/fit/register-plate.js';
import type { Ring } from '../../../server/engineering/geometry/point.js';
import { wordFinding } from '../../../server/words/index.js';
import { demoBolster, demoRules, samplePlate } from '../../support/gullwing.js';
import { handDrawing } from '../../support/hand-drawing.js';
import { fitFinding } from '../fit/check-plate-fit.js';
import { boltsAt, features, madeDrawing, pocket, rectangle } from '../fit/made-drawing.js';

/** Two cavities of 20 x 20 mm, their middles 55 mm right and left of a feed of 4 mm, and the pockets that lead to them. */
function fedBy(...ways: readonly Ring[]): MeasuredDrawing {
  return fedThrough(
    ...ways.map((ring): DrawnWay => ({ kind: 'pocket', feature: 'RUNNER', depthMm: 3, ring })),
  );
}

function fedThrough(...ways: readonly DrawnWay[]): MeasuredDrawing {
  const drawing = handDrawing({
    plate: { x: 0, y: 0, widthMm: 180, heightMm: 140 },
    bolts: [-80, 80].flatMap((x) => [-60, 60].map((y) => ({ x, y }))),
    cavities: [-55, 55].map((x) => ({ x, y: 0, widthMm: 20, heightMm: 20, depthMm: 3 })),
  });
  return { ...drawing, ways };
}

function channel(
  feature: 'RUNNER' | 'GATE',
  widthMm: number,
  ...path: readonly (readonly [number, number])[]
) {
  return { kind: 'channel', feature, depthMm: 3, widthMm, path: path.map(([x, y]) => ({ x, y })) } as const;
}

function feedFinding(drawing: MeasuredDrawing) {
  const registration = registerPlate(drawing, demoBolster, 6, demoRules);
  return checkFeedOnSprue({ drawing, plate: samplePlate, registration, bolster: demoBolster });
}

const wayTo = (fromX: number, toX: number, widthMm = 5) =>
  rectangle(toX - fromX, widthMm, { x: (fromX + toX) / 2, y: 0 });

describe('the way from the feed to the cavities', () => {
  it('leads to both', () => {
    const gates = [channel('GATE', 2, [40, 0], [46, 0]), channel('GATE', 2, [-40, 0], [-46, 0])];
    const drawing = fedThrough(channel('RUNNER', 5, [-40, 0], [40, 0]), ...gates);
    expect(feedFinding(drawing)).toMatchObject({ verdict: 'clear', situation: 'on-sprue' });
  });

  it.each([
    [30, 15],
    [44.9, 0.1],
    [44.98, 0.02],
  ])(
    'a runner that ends at %f mm: the cavity from 45 mm on stays empty, %f mm short of it',
    (endsAt, gapMm) => {
      const finding = feedFinding(fedBy(wayTo(-50, endsAt)));
      expect(finding).toMatchObject({
        verdict: 'caution',
        situation: 'cavities-not-joined',
        figure: 1,
        limit: 2,
      });
      expect(finding.figures.cavityNumbers).toEqual([2]);
      expect(finding.places).toEqual([{ x: 55, y: 0 }]);
      expect(wordFinding(finding).summary).toMatch(/cavity 2 is not joined to it/);
      const [join] = finding.cures;
      expect(join?.amount).toBeCloseTo(gapMm, 6);
      const across = wayTo(Number(join?.figures.fromXMm) - 1, Number(join?.figures.toXMm) + 1, 2);
      expect(feedFinding(fedBy(wayTo(-50, endsAt), across)).verdict).toBe('clear');
    },
  );

  it('counts cuts within a hundredth as joined', () => {
    expect(feedFinding(fedBy(wayTo(-50, 44.995))).verdict).toBe('clear');
  });

  it('a feed that nothing leaves feeds none', () => {
    const finding = feedFinding(fedBy());
    expect(finding).toMatchObject({ verdict: 'caution', figure: 0 });
    expect(wordFinding(finding).marginText).toBe('2 not joined');
    expect(wordFinding(finding).summary).toMatch(/cavities 1 and 2 are/);
  });

  it('one cavity may feed the next', () => {
    const chained = fedBy(wayTo(-50, 0), rectangle(110, 4, { x: 0, y: 8 }));
    expect(feedFinding(chained).verdict).toBe('clear');
  });
});

describe('cuts that do not belong to the way of the melt', () => {
  const runner = channel('RUNNER', 5, [-40, 0], [40, 0]);
  const gates = [channel('GATE', 2, [40, 0], [46, 0]), channel('GATE', 2, [-40, 0], [-46, 0])];

  it('a runner that opens straight in is allowed, and said with its places', () => {
    const finding = feedFinding(fedThrough(channel('RUNNER', 5, [-50, 0], [40, 0]), gates[0] as DrawnWay));
    expect(finding).toMatchObject({ verdict: 'clear', situation: 'runner-opens-in' });
    expect(finding.figures).toMatchObject({ cavityNumbers: [1], inletDepthMm: 3 });
    expect(finding.places[0]?.x).toBeCloseTo(-45, 6);
    expect(wordFinding(finding).summary).toMatch(/The runner opens into cavity 1 without a gate\.$/);
  });

  it('a runner that does not start at the feed, and what joins it', () => {
    const stray = channel('RUNNER', 4, [5, 20], [20, 20]);
    const finding = feedFinding(fedThrough(runner, ...gates, stray));
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'way-apart', figure: 3, limit: 4 });
    expect(finding.places).toEqual([{ x: 5, y: 20 }]);
    expect(wordFinding(finding).summary).toMatch(
      /there is a runner no way leads to from the feed, at x 5.0, y 20.0 mm/,
    );
    // From the runner's side at y = 2.5 to the other's at y = 20 - 2.
    const [join] = finding.cures;
    expect(join).toMatchObject({ code: 'join-cuts' });
    expect(join?.amount).toBeCloseTo(15.5, 6);
    const [fromXMm, fromYMm, toXMm, toYMm] = ['fromXMm', 'fromYMm', 'toXMm', 'toYMm'].map((name) =>
      Number(join?.figures[name]),
    );
    const cut = channel('RUNNER', 4, [fromXMm ?? 0, fromYMm ?? 0], [toXMm ?? 0, toYMm ?? 0]);
    expect(feedFinding(fedThrough(runner, ...gates, stray, cut))).toMatchObject({ verdict: 'clear' });
  });

  it('a gate that ends before a cavity, and how far it has to be led on', () => {
    const blind = channel('GATE', 2, [40, 0], [40, 8], [42, 8]);
    const finding = feedFinding(fedThrough(runner, ...gates, blind));
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'blind-gate', figure: 2, limit: 3 });
    // Its round end lies at 43, the cavity's side at 45.
    expect(finding.cures[0]).toMatchObject({ code: 'lead-gate-on' });
    expect(finding.cures[0]?.amount).toBeCloseTo(2, 1);
    expect(finding.places[0]?.x).toBeCloseTo(43, 1);
    expect(Math.abs((finding.places[0]?.y ?? 0) - 8)).toBeLessThan(0.2);
    const led = channel('GATE', 2, [40, 0], [40, 8], [42, 8], [46, 8]);
    expect(feedFinding(fedThrough(runner, ...gates, led))).toMatchObject({ verdict: 'clear' });
  });

  it('a gate before a cavity that nothing else feeds is told as that cavity', () => {
    const finding = feedFinding(
      fedThrough(runner, gates[0] as DrawnWay, channel('GATE', 2, [-40, 0], [-43, 0])),
    );
    expect(finding).toMatchObject({ situation: 'cavities-not-joined', figure: 1 });
    expect(finding.figures.cavityNumbers).toEqual([1]);
    expect(finding.cures[0]?.amount).toBeCloseTo(1, 1);
  });

  it.each(['runner', 'gate'] as const)(
    'a %s across a bolt hole is a stop of the walls, with its place',
    (kind) => {
      const cut = pocket(3, rectangle(60, 4, { x: -60, y: 60 }));
      const over = {
        features: features({ CAVITY: pocket(3, rectangle(40, 30)), [kind.toUpperCase()]: cut }),
      };
      const bolts = boltsAt(6.6, [-80, -60], [80, -60], [80, 60], [-80, 60]);
      const finding = fitFinding('walls', madeDrawing({ bolts, over }));
      expect(finding).toMatchObject({ verdict: 'stop', situation: 'into-hole', figures: { of: kind } });
      expect(Math.hypot((finding.places[0]?.x ?? 0) + 80, (finding.places[0]?.y ?? 0) - 60)).toBeLessThan(6);
    },
  );
});
