import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import type { Finding } from '../../../server/engineering/finding.js';
import { checkFillPressure } from '../../../server/engineering/melt/check-fill-pressure.js';
import { checkGateShear, inletFlows } from '../../../server/engineering/melt/check-gate-shear.js';
import { checkResidence, residenceMin } from '../../../server/engineering/melt/check-residence.js';
import { checkShotVolume, screwWayMm } from '../../../server/engineering/melt/check-shot-volume.js';
import { checkVents } from '../../../server/engineering/melt/check-vents.js';
import { type MeltCase, meltCaseOf } from '../../../server/engineering/melt/melt-case.js';
import { gateShearPerS } from '../../../server/engineering/melt/pressure-drop.js';
import { ventSystem } from '../../../server/engineering/melt/vents.js';
import { findPolymer, POLYMERS } from '../../../server/engineering/polymers/polymers.js';
import { residenceLimitMin } from '../../../server/engineering/polymers/residence-limit.js';
import type { PressFacts } from '../../../server/engineering/press-facts.js';
import { wordFinding } from '../../../server/words/en/findings.js';
import { demoBolster, demoPress, samplePlate } from '../../support/gullwing.js';

const dxf = (name: string) => readFileSync(join(import.meta.dirname, '../../samples', `${name}.dxf`));

function meltOf(name: string, symbol = 'PP', press: PressFacts = demoPress): MeltCase {
  const polymer = findPolymer(symbol);
  if (!polymer) throw new Error(symbol);
  const drawing = measureDxf(dxf(name), { sprueDiameterMm: 3.5 });
  return meltCaseOf({ drawing, plate: samplePlate, polymer, bolster: demoBolster, press });
}

const CHECKS = [checkShotVolume, checkResidence, checkGateShear, checkFillPressure, checkVents];

describe('way of the screw and stay in the barrel', () => {
  it('4 cm3 of melt move a screw of 28 mm by 6.5 mm, 0.23 of its diameter', () => {
    expect(screwWayMm(4000, 28)).toBeCloseTo(6.5, 1);
    expect(screwWayMm(4000, 28) / 28).toBeCloseTo(0.23, 2);
  });

  it('60 cm3 rated, 1.4 to 2 of them in the barrel, 4 cm3 every 25 s: 8.8 to 12.5 min', () => {
    expect(residenceMin(1.4 * 60, 4, 25)).toBeCloseTo(8.75, 2);
    expect(residenceMin(2 * 60, 4, 25)).toBeCloseTo(12.5, 2);
  });

  it('a shot that the press cannot bring is a stop, one that leaves no cushion a caution', () => {
    const press = (shotCm3: number) => ({ ...demoPress, injection: { ...demoPress.injection, shotCm3 } });
    const { shot } = meltOf('tile-spacer-4up');
    const meltCm3 = shot.meltMm3 / 1000;
    expect(checkShotVolume(meltOf('tile-spacer-4up', 'PP', press(meltCm3 * 0.99)))).toMatchObject({
      verdict: 'stop',
      situation: 'beyond-press',
    });
    expect(checkShotVolume(meltOf('tile-spacer-4up', 'PP', press(meltCm3 * 1.1)))).toMatchObject({
      verdict: 'caution',
      situation: 'near-the-end',
    });
  });

  it('the cure for a short stroke brings it to a quarter of the diameter', () => {
    const melt = meltOf('tiny-token');
    const finding = checkShotVolume(melt);
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'short-stroke' });
    const coldMm3 = melt.shot.coldMm3 + 1000 * (finding.cures[0]?.amount ?? 0);
    const meltMm3 = (coldMm3 * melt.shot.meltMm3) / melt.shot.coldMm3;
    expect(screwWayMm(meltMm3, 28)).toBeCloseTo(0.25 * 28, 6);
  });

  it('acetal held far longer than published is a stop, and no pause is offered', () => {
    const finding = checkResidence(meltOf('tiny-token', 'POM'));
    expect(finding).toMatchObject({ verdict: 'stop', situation: 'breaks-down' });
    expect(wordFinding(finding).advice).toMatch(/pause is never the cure/);
    // Judged at the hottest set, where the limit is shorter than at the usual one.
    const melt = meltOf('tile-spacer-4up', 'POM');
    const { figures } = checkResidence(melt);
    expect(figures.meltC).toBe(melt.polymer.temperatures.sets[2].meltC);
    expect(figures.limitMin).toBe(residenceLimitMin(melt.polymer, Number(figures.meltC)));
    expect(Number(figures.limitMin)).toBeLessThan(
      residenceLimitMin(melt.polymer, melt.polymer.temperatures.sets[1].meltC),
    );
  });

  /** So many times what the polymer bears, by the cycle's length. */
  const stayOf = (symbol: string, times: number) => {
    const melt = meltOf('tile-spacer-4up', symbol);
    const { figure, figures } = checkResidence(melt);
    const totalS = (melt.cycle.totalS * times * Number(figures.limitMin)) / (figure ?? NaN);
    return checkResidence({ ...melt, cycle: { ...melt.cycle, totalS } });
  };

  it('a remembered limit warns beyond twice itself, and leaves nothing to spare between', () => {
    const near = stayOf('PP', 1.5);
    expect(near).toMatchObject({ verdict: 'clear', situation: 'near', limit: 10 });
    expect(near.margin).toBeNull();
    expect(wordFinding(near).line).toBe('15 min, about 10 min remembered');
    expect(wordFinding(near).marginText).toBeNull();
    expect(stayOf('PP', 0.9).margin).toBeCloseTo(1, 6);
    const over = stayOf('PP', 2.1);
    expect(over).toMatchObject({ verdict: 'caution', situation: 'too-long' });
    expect(wordFinding(over).summary).toContain('more than twice what is remembered');
  });

  it('a published limit is not doubled, and no word says so', () => {
    const over = stayOf('PETG', 1.1);
    expect(over).toMatchObject({ verdict: 'caution', situation: 'over-sourced', limit: 5 });
    expect(wordFinding(over).summary).not.toMatch(/twice|remembered/);
    expect(wordFinding(over).line).toBe('5.5 min, at most 5.0 min');
  });

  it.each(['PVC-U', 'PVC-P', 'PBT'])('%s beyond twice its remembered limit is a stop', (symbol) => {
    expect(stayOf(symbol, 1.5)).toMatchObject({ verdict: 'caution', situation: 'breaks-down' });
    expect(stayOf(symbol, 2.1)).toMatchObject({ verdict: 'stop', situation: 'breaks-down' });
  });
});

describe('gates', () => {
  it('each gate is judged with its cavity’s share of the flow', () => {
    const melt = meltOf('tile-spacer-4up');
    const quarter = melt.filling.flowCm3PerS / 4;
    expect(checkGateShear(melt).figure).toBeCloseTo((6 * quarter * 1000) / (2 * 0.9 ** 2), 0);
  });

  it('the shallow gate of four is the one named, and its cures clear it', () => {
    const melt = meltOf('unequal-gates', 'POM');
    const finding = checkGateShear(melt);
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'torn' });
    expect(finding.figures).toMatchObject({ depthMm: 0.3 });
    const [deeper, slower] = finding.cures;
    const flow = Number(finding.figures.flowCm3PerS) * 1000;
    expect((6 * flow) / (2 * (deeper?.amount ?? 0) ** 2)).toBeLessThanOrEqual(Number(finding.limit));
    const slowerFlow = (flow * melt.filling.seconds) / (slower?.amount ?? 0);
    expect((6 * slowerFlow) / (2 * 0.3 ** 2)).toBeLessThanOrEqual(Number(finding.limit) * (1 + 1e-9));
  });
});

describe('balance of gates', () => {
  it('names the cavity that fills first and the one that comes out short', () => {
    const finding = checkGateShear(meltOf('unequal-gates'));
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'uneven', limit: 3 });
    // Gates of one width and land: by the cube of their depths, in equal cavities.
    const { feed } = meltOf('unequal-gates');
    const depths = feed.inlets.map(([inlet]) => inlet?.depthMm ?? NaN);
    expect(finding.figure).toBeCloseTo((Math.max(...depths) / Math.min(...depths)) ** 3, 0);
    expect(finding.figures.lastCavity).toBe(depths.indexOf(Math.min(...depths)) + 1);
    expect(wordFinding(finding).summary).toMatch(/is full first .* comes out short/);
  });

  it('leaves equal gates alone', () => {
    expect(checkGateShear(meltOf('tile-spacer-4up')).situation).toBe('within');
  });
});

describe('a larger gate', () => {
  it('is no deeper than the runner before it and the cavity behind it, but wider, and clears', () => {
    const melt = meltOf('unequal-gates', 'POM');
    const times = 100;
    const filling = {
      ...melt.filling,
      cavityFlowCm3PerS: melt.filling.cavityFlowCm3PerS.map((flow) => times * flow),
    };
    const finding = checkGateShear({ ...melt, filling });
    const [cure] = finding.cures;
    expect(cure?.code).toBe('wider-gate');
    const [width, depth] = [cure?.amount ?? NaN, Number(cure?.figures.toDepthMm)];
    const deepest = melt.drawing.cavities[Number(finding.figures.cavity) - 1]?.maxDepthMm ?? NaN;
    expect(depth).toBeLessThanOrEqual(Math.max(deepest, Number(finding.figures.depthMm)));
    const flow = Number(finding.figures.flowCm3PerS);
    expect(gateShearPerS(flow, width, depth)).toBeLessThanOrEqual(Number(finding.limit));
    expect(gateShearPerS(flow, width - 0.1, depth)).toBeGreaterThan(Number(finding.limit));
    expect(wordFinding(finding).cures[0]?.what).toMatch(/^Gate .* wide and .* deep/);
  });

  it('two ways into one cavity part its flow by the smaller side, however the gate is turned', () => {
    const melt = meltOf('tile-spacer-4up');
    const [inlet] = melt.feed.inlets[0] ?? [];
    if (!inlet) throw new Error('no inlet');
    const turned = { ...inlet, widthMm: inlet.depthMm, depthMm: inlet.widthMm };
    const [one, other] = inletFlows({
      feed: { ...melt.feed, inlets: [[inlet, turned]] },
      filling: melt.filling,
    });
    expect(one?.flowCm3PerS).toBeCloseTo(other?.flowCm3PerS ?? NaN, 12);
  });
});

describe('vents', () => {
  it('a plate without vents is a caution that names its cavities', () => {
    const finding = checkVents(meltOf('no-vent'));
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'none', figure: 0, limit: 2 });
    expect(finding.places.length).toBe(2);
  });

  it('a vent of 0.02 mm keeps PP in and lets PA6 through', () => {
    expect(checkVents(meltOf('tile-spacer-4up')).verdict).toBe('clear');
    expect(checkVents(meltOf('tile-spacer-4up', 'PA6'))).toMatchObject({
      verdict: 'caution',
      situation: 'melt-gets-in',
      limit: 0.013,
    });
  });

  /** The land a vent needs before it is relieved: viewmold.com, Injection mold venting standards (1.5 mm). */
  it.each([
    [1, 'short-land'],
    [1.6, 'vented'],
  ])('relief %d mm from the cavity: %s', (landMm, situation) => {
    const melt = meltOf('tiny-token');
    const ways = melt.drawing.ways.flatMap((way) => {
      const [from, to] = way.kind === 'channel' ? [way.path[0], way.path.at(-1)] : [];
      if (way.feature !== 'VENT' || way.kind !== 'channel' || !from || !to) return [way];
      const long = Math.hypot(to.x - from.x, to.y - from.y);
      const { at } = ventSystem(melt.drawing).vents[0]?.[0] ?? { at: from };
      const [start, end] = Math.hypot(at.x - from.x, at.y - from.y) < long / 2 ? [from, to] : [to, from];
      const u = { x: (end.x - start.x) / long, y: (end.y - start.y) / long };
      const along = (at.x - start.x) * u.x + (at.y - start.y) * u.y + landMm;
      const middle = { x: start.x + along * u.x, y: start.y + along * u.y };
      return [
        { ...way, path: [start, middle] },
        { ...way, depthMm: 0.2, widthMm: 0.2, path: [middle, end] },
      ];
    });
    const finding = checkVents({ ...melt, drawing: { ...melt.drawing, ways } });
    expect(finding.situation).toBe(situation);
    if (situation === 'vented') return;
    expect(finding.verdict).toBe('caution');
    const moved = finding.cures[0]?.amount ?? NaN;
    expect((finding.figure ?? NaN) + moved).toBeCloseTo(1.5, 9);
    expect(wordFinding(finding).line).toMatch(/^relief after .* mm, at least 1.5 mm$/);
  });

  it('a vent that stops before the edge of the plate lets no air out', () => {
    const text = dxf('tiny-token').toString('latin1');
    const drawing = measureDxf(text, { sprueDiameterMm: 3.5 });
    const polymer = findPolymer('PP');
    if (!polymer) throw new Error('PP');
    const shorter = drawing.ways.map((way) => {
      if (way.feature !== 'VENT' || way.kind !== 'channel') return way;
      const [from, to] = [way.path[0], way.path.at(-1)];
      if (!from || !to) return way;
      return {
        ...way,
        path: [from, { x: from.x + 0.6 * (to.x - from.x), y: from.y + 0.6 * (to.y - from.y) }],
      };
    });
    const input = { plate: samplePlate, polymer, bolster: demoBolster, press: demoPress };
    expect(checkVents(meltCaseOf({ drawing, ...input })).verdict).toBe('clear');
    const cut = checkVents(meltCaseOf({ drawing: { ...drawing, ways: shorter }, ...input }));
    expect(cut).toMatchObject({ verdict: 'caution', situation: 'no-way-out', figure: 0, limit: 1 });
  });
});

describe('filling pressure', () => {
  it('grows as the wall gets thinner', () => {
    const pressure = (name: string) => checkFillPressure(meltOf(name)).figure ?? NaN;
    expect(pressure('seed-label-2up')).toBeGreaterThan(pressure('ruler-clip-offset'));
  });

  it('goes by flow ratio where no curve can be trusted', () => {
    expect(checkFillPressure(meltOf('tile-spacer-4up', 'POM'))).toMatchObject({
      situation: 'short-for-its-wall',
      unit: '',
    });
  });

  it('a press without that pressure cannot fill it', () => {
    const maxPressureMpa = (checkFillPressure(meltOf('tile-spacer-4up', 'PC')).figure ?? 0) * 0.9;
    const weak = { ...demoPress, injection: { ...demoPress.injection, maxPressureMpa } };
    const melt = meltOf('tile-spacer-4up', 'PC', weak);
    const finding = checkFillPressure(melt);
    expect(finding).toMatchObject({ verdict: 'stop', situation: 'over' });
    // The longer fill it proposes is tried, and takes what it says.
    const [cure] = finding.cures;
    expect(cure?.code).toBe('slower-fill');
    const times = (cure?.amount ?? NaN) / melt.filling.seconds;
    const { filling } = melt;
    const slower = checkFillPressure({
      ...melt,
      filling: {
        ...filling,
        seconds: times * filling.seconds,
        flowCm3PerS: filling.flowCm3PerS / times,
        cavityFlowCm3PerS: filling.cavityFlowCm3PerS.map((flow) => flow / times),
      },
    });
    expect(slower.situation).toBe('top-of-band-over');
    expect(slower.figure).toBeCloseTo(Number(cure?.figures.mpa), 9);
    expect(wordFinding(finding).cures[0]?.what).toMatch(/^Fill in .* s instead of/);
  });

  it('a pressure that no longer fill time brings down has no such cure', () => {
    const weak = { ...demoPress, injection: { ...demoPress.injection, maxPressureMpa: 1 } };
    const finding = checkFillPressure(meltOf('tile-spacer-4up', 'PC', weak));
    expect(finding).toMatchObject({ verdict: 'stop', cures: [] });
  });
});

it.each(POLYMERS.map(({ symbol }) => symbol))(
  '%s: every melt finding of every sample is finite and has its words',
  (symbol) => {
    for (const name of [
      'tile-spacer-4up',
      'plant-tag-end-fed',
      'deep-cap',
      'too-much-area',
      'no-vent',
      'unequal-gates',
    ]) {
      const melt = meltOf(name, symbol);
      for (const finding of CHECKS.map((check): Finding => check(melt))) {
        const numbers = [finding.figure, finding.margin, ...Object.values(finding.figures)].flat();
        for (const value of numbers) if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
        expect(wordFinding(finding).summary).not.toMatch(/NaN|undefined|Infinity/);
      }
    }
  },
);
