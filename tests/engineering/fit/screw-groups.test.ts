import { describe, expect, it } from 'vitest';
import { outsideScrewsMm } from '../../../server/engineering/fit/holding-force.js';
import { missingHoles } from '../../../server/engineering/fit/missing-holes.js';
import { convexHullOf } from '../../../server/engineering/geometry/convex-hull.js';
import { distanceToPoint } from '../../../server/engineering/geometry/distance.js';
import { wordFinding } from '../../../server/words/index.js';
import { demoBolster, samplePlate } from '../../support/gullwing.js';
import { fitFinding } from './check-plate-fit.js';
import { boltsAt, features, madeDrawing, pocket, rectangle } from './made-drawing.js';

/** Two holes for M6 and two for M5, on a bolster whose upper row is tapped M5 and only 8 mm deep. */
const bolts = [...boltsAt(6.6, [-80, -60], [80, -60]), ...boltsAt(5.5, [80, 60], [-80, 60])];
const over = { features: features({ CAVITY: pocket(3, rectangle(40, 30, { x: 0, y: 20 })) }) };
const drawing = madeDrawing({ bolts, over });
const bolster = {
  ...demoBolster,
  holes: demoBolster.holes.map((hole) => (hole.at.y === 60 ? { ...hole, thread: 'M5', depthMm: 14 } : hole)),
};
const M5 = { size: 'M5', lengthMm: 20, headSinkDepthMm: 6, headSinkDiameterMm: 10 };
const byDiameter = { ...samplePlate, screwGroups: [{ holeDiameterMm: 5.5, holes: [], screw: M5 }] };
const byNumber = { ...samplePlate, screwGroups: [{ holeDiameterMm: null, holes: [3, 4], screw: M5 }] };

function ask(check: Parameters<typeof fitFinding>[0], plate: typeof samplePlate) {
  return fitFinding(check, drawing, { plate, bolster });
}

describe('screws per hole group', () => {
  it.each([
    ['by drawn diameter', byDiameter],
    ['by number', byNumber],
  ])('%s, every screw finds a tapped hole of its own thread', (_, plate) => {
    expect(ask('bolt-pattern', plate)).toMatchObject({ verdict: 'clear' });
    expect(ask('screw-heads', plate)).toMatchObject({ verdict: 'clear' });
    expect(ask('screw-engagement', plate)).toMatchObject({ verdict: 'clear' });
  });

  it('without the group no screw goes into the other thread', () => {
    expect(ask('bolt-pattern', samplePlate).verdict).toBe('stop');
  });

  it('the least engaged screw decides: 20 − (16 − 6) = 10 mm in 1.0 × 5, against 11 mm in 1.0 × 6', () => {
    const finding = ask('screw-engagement', byDiameter);
    // 14 - 10 = 4 mm of room in the M5 holes; 15 - 11 = 4 mm in the M6 ones: the first group listed is told.
    expect(finding).toMatchObject({ figure: 11, margin: 4 });
    const short = {
      ...byDiameter,
      screwGroups: [{ holeDiameterMm: 5.5, holes: [], screw: { ...M5, lengthMm: 12 } }],
    };
    expect(ask('screw-engagement', short)).toMatchObject({
      verdict: 'stop',
      situation: 'too-short',
      figure: 2,
      limit: { min: 5, max: 14 },
      figures: { screwSize: 'M5', screwLengthMm: 12, screws: 2, failing: 2 },
    });
  });

  it('a cure of the group is said, and only one of the other screws can be tried at once', () => {
    const short = {
      ...byDiameter,
      screwGroups: [{ holeDiameterMm: 5.5, holes: [], screw: { ...M5, lengthMm: 12 } }],
    };
    const [cure] = ask('screw-engagement', short).cures;
    expect(cure).toMatchObject({ code: 'screw-length', figures: { screwSize: 'M5' } });
    expect(cure).not.toHaveProperty('change');
    const main = { ...byDiameter, screw: { ...samplePlate.screw, lengthMm: 12 } };
    expect(ask('screw-engagement', main).cures[0]?.change).toEqual({ screwLengthMm: 16 });
  });

  it('each head is sunk for its own height', () => {
    const proud = {
      ...byDiameter,
      screwGroups: [{ holeDiameterMm: 5.5, holes: [], screw: { ...M5, headSinkDepthMm: 4 } }],
    };
    expect(ask('screw-heads', proud)).toMatchObject({
      verdict: 'stop',
      situation: 'head-proud',
      figure: 4,
      limit: 5,
      places: [
        { x: 80, y: 60 },
        { x: -80, y: 60 },
      ],
    });
  });

  it('holes that are too tight are opened for their own screw, and a group by diameter goes by the new one', () => {
    const tight = madeDrawing({
      bolts: [...boltsAt(6.6, [-80, -60], [80, -60]), ...boltsAt(5.1, [80, 60], [-80, 60])],
      over,
    });
    const fits = (drawn: typeof tight, plate: typeof samplePlate) =>
      fitFinding('bolt-pattern', drawn, { plate, bolster }).verdict;
    const opened = {
      ...tight,
      bolts: tight.bolts.map((bolt, i) => (i < 2 ? bolt : { ...bolt, diameterMm: 5.5 })),
    };
    const numbered = fitFinding('bolt-pattern', tight, { plate: byNumber, bolster });
    expect(numbered).toMatchObject({ verdict: 'stop', situation: 'holes-small' });
    // ISO 273, medium series: 5.5 mm for M5.
    const cure = numbered.cures.find(({ code }) => code === 'open-holes');
    expect(cure).toMatchObject({ amount: 5.5, figures: { screwSize: 'M5', holeNumbers: [3, 4] } });
    expect(cure?.figures).not.toHaveProperty('groupWasMm');
    expect(fits(opened, byNumber)).toBe('clear');
    const going = (mm: number) => ({
      ...byDiameter,
      screwGroups: [{ holeDiameterMm: mm, holes: [], screw: M5 }],
    });
    const [whole] = fitFinding('bolt-pattern', tight, { plate: going(5.1), bolster }).cures;
    expect(whole).toMatchObject({ code: 'open-holes', amount: 5.5, figures: { groupWasMm: 5.1 } });
    expect(fits(opened, going(5.5))).toBe('clear');
    const words = wordFinding(fitFinding('bolt-pattern', tight, { plate: going(5.1), bolster }));
    expect(words.cures[0]?.also).toMatch(/give it as 5\.50 mm instead of 5\.10 mm/);
  });

  it('a plate is held by what tapped holes are free for, of any of its screws', () => {
    const low = madeDrawing({
      bolts: boltsAt(6.6, [-80, -60], [80, -60]),
      centroid: { x: 0, y: 20 },
      over,
    });
    const onlyM5 = {
      ...bolster,
      holes: bolster.holes.filter(({ at, thread }) => thread === 'M5' || at.y === -60),
    };
    const one = fitFinding('bolt-pattern', low, { plate: samplePlate, bolster: onlyM5 });
    expect(one).toMatchObject({ situation: 'load-outside-screws', cures: [] });
    const two = fitFinding('bolt-pattern', low, { plate: byDiameter, bolster: onlyM5 });
    expect(two.cures[0]).toMatchObject({ code: 'add-holes', figures: { screwSize: 'M5', diameterMm: 5.5 } });
  });

  it('a hole that a group names and the drawing has not is found, whatever else is in the group', () => {
    const named = { screwGroups: [{ holeDiameterMm: null, holes: [3, 5, 9], screw: M5 }] };
    expect(missingHoles(named, 4)).toEqual([{ group: 0, holes: [5, 9] }]);
    expect(missingHoles(named, 9)).toEqual([]);
    expect(missingHoles(byDiameter, 0)).toEqual([]);
  });
});

describe('what screws of two sizes hold', () => {
  const M6_HEAD = { at: { x: 0, y: 0 }, headDiameterMm: 10 };
  const M10_HEAD = { at: { x: 30, y: 0 }, headDiameterMm: 16 };

  it('reaches out to each head, and between them along their common tangent', () => {
    expect(outsideScrewsMm([M6_HEAD, M10_HEAD], { x: -9, y: 0 })).toBeCloseTo(4, 9);
    expect(outsideScrewsMm([M6_HEAD, M10_HEAD], { x: 30, y: 12 })).toBeCloseTo(4, 9);
    expect(outsideScrewsMm([M6_HEAD, M10_HEAD], { x: 15, y: 3 })).toBe(0);
    // The tangent leaves one circle of radius 5 and the other of 8, 30 apart: sin = 0.1, 6.5 off the axis' middle.
    const normal = { x: -0.1, y: Math.sqrt(0.99) };
    const middle = { x: 15 + 6.5 * normal.x, y: 6.5 * normal.y };
    const off = { x: middle.x + 2 * normal.x, y: middle.y + 2 * normal.y };
    expect(outsideScrewsMm([M6_HEAD, M10_HEAD], middle)).toBeCloseTo(0, 9);
    expect(outsideScrewsMm([M6_HEAD, M10_HEAD], off)).toBeCloseTo(2, 9);
  });

  it('is the same as the hull of many points on their heads’ rims', () => {
    const heads = [M6_HEAD, M10_HEAD, { at: { x: 12, y: 25 }, headDiameterMm: 8.5 }];
    const rims = heads.flatMap(({ at, headDiameterMm }) =>
      Array.from({ length: 720 }, (_, i) => {
        const turn = (i * Math.PI) / 360;
        const r = headDiameterMm / 2;
        return { x: at.x + r * Math.cos(turn), y: at.y + r * Math.sin(turn) };
      }),
    );
    const hull = convexHullOf(rims);
    for (let i = 0; i < 60; i++) {
      const at = { x: 15 + 45 * Math.cos(i), y: 8 + 45 * Math.sin(i) };
      const drawn = distanceToPoint([hull], at)?.distanceMm ?? 0;
      expect(Math.abs(outsideScrewsMm(heads, at) - drawn)).toBeLessThan(0.001);
    }
  });
});
