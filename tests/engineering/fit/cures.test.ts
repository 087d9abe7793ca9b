import { describe, expect, it } from 'vitest';
import type { MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import type { CheckName, Cure } from '../../../server/engineering/finding.js';
import { plateWith } from '../../../server/engineering/fit/plate-with.js';
import { wordFinding } from '../../../server/words/index.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../../support/gullwing.js';
import { type FitCase, fitFinding } from './check-plate-fit.js';
import { boltsAt, features, madeDrawing, movedDrawing, pocket, rectangle } from './made-drawing.js';
import { sampleDrawing } from './samples.js';
import { seeded } from './seeded.js';

const corners = boltsAt(6.6, [-80, -60], [80, -60], [80, 60], [-80, 60]);
const cavity = features({ CAVITY: pocket(3, rectangle(40, 30, { x: 0, y: 20 })) });
const plain = madeDrawing({ bolts: corners, over: { features: cavity } });
const screw = (change: Partial<typeof samplePlate.screw>) => ({
  ...samplePlate,
  screw: { ...samplePlate.screw, ...change },
});

/** Every cure with a `change` that a stopped plate is offered, tried at once. */
function tryChanges(check: CheckName, drawing: MeasuredDrawing, given: FitCase): readonly Cure[] {
  const finding = fitFinding(check, drawing, given);
  expect(finding.verdict).not.toBe('clear');
  const tried = finding.cures.filter((cure) => cure.change !== undefined);
  for (const cure of tried) {
    const plate = plateWith(given.plate ?? samplePlate, cure.change ?? {});
    expect(fitFinding(check, drawing, { ...given, plate }).verdict, cure.code).toBe('clear');
    expect(fitFinding('screw-engagement', drawing, { ...given, plate }).verdict, `${cure.code}, screws`).toBe(
      'clear',
    );
  }
  return tried;
}

describe('a cure that can be tried at once clears its finding, and the screws still hold', () => {
  it('a thin stack: packer or thicker stock', () => {
    const plate = { ...screw({ lengthMm: 12, headSinkDepthMm: 6.5 }), thicknessMm: 10 };
    const tried = tryChanges('daylight', plain, { plate });
    expect(tried.map((cure) => cure.change)).toEqual([{ packerThicknessMm: 2.2 }, { thicknessMm: 12.2 }]);
    expect(tried[0]?.figures.screws).toBe('as-now');
    expect(tried[0]?.figures.engagedMm).toBeCloseTo(12 - 3.5 - 2.2, 9);
  });

  it('a packer so thick that the screws must be longer names the standard length', () => {
    const bolster = { ...demoBolster, minimumDaylightMm: 30 };
    const [packer] = tryChanges('daylight', plain, { bolster });
    expect(packer?.change).toEqual({ packerThicknessMm: 14.2, screwLengthMm: 30 });
  });

  it('a stack that is too high: thinner packer, facing plate or stock', () => {
    const plate = { ...screw({ lengthMm: 60 }), packerThicknessMm: 42, facingThicknessMm: 8 };
    expect(tryChanges('daylight', plain, { plate }).map((cure) => cure.code)).toEqual([
      'thinner-packer',
      'thinner-facing',
      'thinner-stock',
    ]);
  });

  it.each([
    [9, 'does-not-reach', 16],
    [12, 'too-short', 16],
    [30, 'bottoms', 20],
  ])('a screw of %d mm %s: %d mm does', (lengthMm, situation, rightMm) => {
    const plate = screw({ lengthMm });
    expect(fitFinding('screw-engagement', plain, { plate }).situation).toBe(situation);
    const [cure] = tryChanges('screw-engagement', plain, { plate });
    expect(cure?.change).toEqual({ screwLengthMm: rightMm });
  });

  it('an aluminium face wants one and a half diameters', () => {
    const bolster = { ...demoBolster, faceMaterial: 'EN AW-6082-T6' };
    const plate = screw({ lengthMm: 16 });
    expect(fitFinding('screw-engagement', plain, { plate }).verdict).toBe('clear');
    const finding = fitFinding('screw-engagement', plain, { plate, bolster });
    expect(finding).toMatchObject({ verdict: 'stop', limit: { min: 9, max: 15 } });
    expect(finding.figures.outlastsMm).toBeCloseTo(7.45, 2);
  });

  it.each([
    [{ headSinkDepthMm: null, headSinkDiameterMm: null }, 'head-proud', 6],
    [{ headSinkDepthMm: 5.5 }, 'head-proud', 0.5],
    [{ headSinkDiameterMm: 9 }, 'sink-narrow', 1],
    [{ headSinkDiameterMm: 10.1 }, 'sink-tight', 0.12],
    [{ headSinkDepthMm: 14 }, 'little-metal', 1],
    [{ headSinkDepthMm: 16 }, 'sink-through', 3],
  ])('heads with %j: %s by %d mm', (change, situation, missingMm) => {
    const plate = screw(change);
    const finding = fitFinding('screw-heads', plain, { plate });
    expect(finding.situation).toBe(situation);
    expect(finding.margin).toBeCloseTo(-missingMm, 6);
    expect(tryChanges('screw-heads', plain, { plate })).toHaveLength(1);
  });

  it('a sink that leaves a tenth of a millimetre: the head shears through, whatever the torque', () => {
    const plate = screw({ headSinkDepthMm: 15.9, lengthMm: 12 });
    const finding = fitFinding('screw-heads', plain, { plate });
    expect(finding).toMatchObject({ verdict: 'stop', situation: 'head-shears' });
    // 75 % of 11.6 kN through pi x 9.38 x 0.1 mm, against 0.6 x 295 MPa.
    expect(finding.figures.headShearMpa).toBeCloseTo((0.75 * 11_600) / (Math.PI * 9.38 * 0.1), 0);
    expect(finding.figures.shearStrengthMpa).toBeCloseTo(177, 9);
    expect(wordFinding(finding).advice).not.toMatch(/tighten/i);
    expect(tryChanges('screw-heads', plain, { plate })).toHaveLength(1);
  });

  it.each([
    // Half of 8.7 kN shears pi x 9.38 x u at 177 MPa up to u = 0.834 mm.
    [0.83, 'stop', null],
    [0.84, 'caution', 'shear'],
    [1, 'caution', 'shear'],
    [3, 'clear', 'head-pressure'],
  ] as const)('%f mm under the head of an M6: %s', (underMm, verdict, torqueLimit) => {
    const finding = fitFinding('screw-heads', plain, { plate: screw({ headSinkDepthMm: 16 - underMm }) });
    expect(finding.verdict).toBe(verdict);
    if (torqueLimit === null) return;
    expect(finding.figures.torqueLimit).toBe(torqueLimit);
    expect(wordFinding(finding).line).toMatch(/; tighten to \d+\.\d N m$/);
    const bearsN = (177 * Math.PI * 9.38 * underMm) / 1.3;
    const pressesN = (240 * Math.PI * (9.38 ** 2 - 6.6 ** 2)) / 4;
    expect(finding.figures.torqueNm).toBeCloseTo((0.2 * 6 * Math.min(bearsN, pressesN)) / 1000, 6);
  });

  it('a length that nobody sells holds, and the nearest one that is sold is named and holds too', () => {
    const finding = fitFinding('screw-engagement', plain, { plate: screw({ lengthMm: 23 }) });
    expect(finding).toMatchObject({ verdict: 'clear', figures: { standardLengthMm: 20 } });
    expect(wordFinding(finding).advice).toBe(
      'M6 × 23 is no standard length of cap screw. Take M6 × 20, which engages 11.0 mm.',
    );
    expect(fitFinding('screw-engagement', plain, { plate: screw({ lengthMm: 20 }) }).verdict).toBe('clear');
    expect(wordFinding(fitFinding('screw-engagement', plain, {})).advice).toBeNull();
  });

  it('a plate too thin to sink the heads in wants thicker stock', () => {
    const plate = { ...screw({ headSinkDepthMm: null }), thicknessMm: 8 };
    const [cure] = tryChanges('screw-heads', plain, { plate });
    expect(cure).toMatchObject({ code: 'thicker-plate', change: { thicknessMm: 9, headSinkDepthMm: 6 } });
  });

  it('a cavity right through the plate, or nearly: thicker stock', () => {
    for (const [depthMm, situation, verdict] of [
      [16, 'through-floor', 'stop'],
      [14, 'thin-floor', 'caution'],
    ] as const) {
      const deep = madeDrawing({
        bolts: corners,
        over: { features: features({ CAVITY: pocket(depthMm, rectangle(20, 20)) }) },
      });
      expect(fitFinding('walls', deep)).toMatchObject({ situation, verdict });
      expect(tryChanges('walls', deep, {})).toHaveLength(1);
    }
  });

  it('an opening that is too short for the stack: thinner packer, or a lower part', () => {
    const press = { ...demoPress, openingStrokeMm: 120 };
    const plate = { ...screw({ lengthMm: 50 }), packerThicknessMm: 29, partHeightMm: 5 };
    const tried = tryChanges('opening-stroke', plain, { press, plate });
    expect(tried.map((cure) => cure.change)).toEqual([{ packerThicknessMm: 26 }]);
    const lower = fitFinding('opening-stroke', plain, { press, plate }).cures.find(
      ({ code }) => code === 'lower-part',
    );
    const partHeightMm = 5 - (lower?.amount ?? 0);
    expect(fitFinding('opening-stroke', plain, { press, plate: { ...plate, partHeightMm } }).verdict).toBe(
      'clear',
    );
  });
});

describe('opening stroke', () => {
  it.each([
    ['hydraulic', 176],
    ['toggle', 180],
  ] as const)('%s clamp: %d mm left with a stack 4 mm thicker than the thinnest', (kind, strokeMm) => {
    const press = { ...demoPress, clamp: { ...demoPress.clamp, kind } };
    const finding = fitFinding('opening-stroke', plain, { press });
    expect(finding).toMatchObject({ verdict: 'clear', figure: 2 * 3 + 20 + 60, limit: strokeMm });
  });

  it.each([
    [47, 'opens'],
    [48, 'opens'],
    [48.1, 'hand-caught'],
    [78.1, 'part-caught'],
  ])('a part %d mm high: %s', (partHeightMm, situation) => {
    const finding = fitFinding('opening-stroke', plain, { plate: { ...samplePlate, partHeightMm } });
    expect(finding.situation).toBe(situation);
  });

  it('a part height given lower than the deepest cavity does not switch the check off', () => {
    const press = { ...demoPress, openingStrokeMm: 92 };
    const deep = madeDrawing({
      bolts: corners,
      over: { features: features({ CAVITY: pocket(10, rectangle(40, 30)) }) },
    });
    for (const partHeightMm of [null, 0, 9.9]) {
      const finding = fitFinding('opening-stroke', deep, { press, plate: { ...samplePlate, partHeightMm } });
      // 2 x 10 + 20 + 60 = 100 mm of the 92 - 4 that are left.
      expect(finding).toMatchObject({ verdict: 'stop', figure: 100, limit: 88, margin: -12 });
      expect(finding.figures.partHeightFrom).toBe('deepest-cavity');
    }
  });
});

describe('daylight at its limits', () => {
  it('a stack that only just meets the minimum is a caution, and its cures end above what may be off', () => {
    for (const thicknessMm of [12, 12.05, 12.19]) {
      const plate = { ...samplePlate, thicknessMm, screw: { ...samplePlate.screw, lengthMm: 16 } };
      expect(fitFinding('daylight', plain, { plate })).toMatchObject({
        verdict: 'caution',
        basis: 'practice',
        source: 'common practice, no source',
      });
      for (const cure of tryChanges('daylight', plain, { plate }))
        expect(Number(cure.figures.stackMm)).toBeGreaterThanOrEqual(12.2 - 1e-9);
    }
  });

  it.each([
    [11.9, 'below-minimum'],
    [12, 'near-minimum'],
    [12.1, 'near-minimum'],
    [12.2, 'closes'],
    [60, 'closes'],
    [60.1, 'above-largest'],
  ])('a stack of %d mm: %s', (thicknessMm, situation) => {
    expect(fitFinding('daylight', plain, { plate: { ...samplePlate, thicknessMm } }).situation).toBe(
      situation,
    );
  });
});

describe('a cure that changes the drawing clears its finding', () => {
  it('moved holes, on seeded patterns with one or two holes wrong and the drawing turned', () => {
    const random = seeded(11);
    for (let n = 0; n < 40; n++) {
      const wrong = 1 + (n % 2);
      const bolts = corners.map((bolt, index) =>
        index < wrong
          ? { ...bolt, at: { x: bolt.at.x + 1 + 3 * random(), y: bolt.at.y - 1 - 3 * random() } }
          : bolt,
      );
      const drawing = movedDrawing(
        madeDrawing({ bolts: [...bolts, ...boltsAt(6.6, [0, -60], [40, 60])] }),
        random() * 360,
        {
          x: 30,
          y: -70,
        },
      );
      const finding = fitFinding('bolt-pattern', withCavity(drawing));
      expect(finding.situation).toBe(wrong === 1 ? 'hole-off' : 'holes-off');
      const cure = finding.cures.find(({ code }) => code.startsWith('move-hole'));
      const moved = withMoves(drawing, cure);
      expect(fitFinding('bolt-pattern', withCavity(moved)).verdict).toBe('clear');
    }
  });

  it('a hole a little off is drilled wider where that is enough', () => {
    const bolts = [...corners.slice(1), ...boltsAt(6.6, [-80.35, -60])];
    const drawing = withCavity(madeDrawing({ bolts }));
    const shifted = { ...drawing, bolts: [...boltsAt(6.6, [-80.9, -60.3]), ...corners.slice(1)] };
    expect(fitFinding('bolt-pattern', drawing).verdict).toBe('clear');
    const off = { ...drawing, bolts: [...boltsAt(6.6, [-80.5, -60.3]), ...corners.slice(1)] };
    const finding = fitFinding('bolt-pattern', off);
    expect(finding.cures.map(({ code }) => code)).toEqual(['open-hole', 'move-hole']);
    expect(finding.cures[0]).toMatchObject({ amount: 7, figures: { series: 'coarse', holeNumbers: [1] } });
    const opened = {
      ...off,
      bolts: off.bolts.map((bolt, index) => (index === 0 ? { ...bolt, diameterMm: 7 } : bolt)),
    };
    expect(fitFinding('bolt-pattern', opened).verdict).toBe('clear');
    expect(fitFinding('bolt-pattern', shifted).cures.map(({ code }) => code)).toEqual(['move-hole']);
  });

  it('holes drilled at the screw’s own size are opened to the medium series', () => {
    const drawing = withCavity(madeDrawing({ bolts: corners.map((bolt) => ({ ...bolt, diameterMm: 6 })) }));
    const finding = fitFinding('bolt-pattern', drawing);
    expect(finding).toMatchObject({ verdict: 'stop', situation: 'holes-small', figure: 6 });
    // d + 2 x (0.05 + 0.05) of tolerances.
    expect(finding.limit).toBeCloseTo(6.2, 6);
    expect(finding.margin).toBeCloseTo(-0.2, 6);
    const least = corners.map((bolt) => ({ ...bolt, diameterMm: Number(finding.limit) }));
    expect(fitFinding('bolt-pattern', withCavity(madeDrawing({ bolts: least }))).verdict).toBe('clear');
    expect(finding.cures[0]).toMatchObject({ code: 'open-holes', amount: 6.6 });
  });

  it('one screw too few, or the pressure outside the screws: holes are added over free tapped holes', () => {
    const one = withCavity(madeDrawing({ bolts: corners.slice(0, 1) }));
    const aside = withCavity(madeDrawing({ bolts: boltsAt(6.6, [-80, -60], [-80, 60]) }));
    for (const drawing of [one, aside]) {
      const finding = fitFinding('bolt-pattern', drawing);
      expect(finding.verdict).not.toBe('clear');
      const cure = finding.cures.find(({ code }) => code === 'add-holes');
      const xs = listOf(cure, 'toXMm');
      const ys = listOf(cure, 'toYMm');
      const added = xs.map((x, index) => ({ at: { x, y: ys[index] ?? 0 }, diameterMm: 6.6 }));
      expect(fitFinding('bolt-pattern', { ...drawing, bolts: [...drawing.bolts, ...added] }).verdict).toBe(
        'clear',
      );
    }
  });

  it('a hole without a tapped hole left for it is left out', () => {
    const few = {
      ...demoBolster,
      holes: demoBolster.holes.filter(({ at }) => Math.abs(at.x) + Math.abs(at.y) === 140),
    };
    const doubled = withCavity(madeDrawing({ bolts: [...corners, ...boltsAt(6.6, [80.1, 60])] }));
    const finding = fitFinding('bolt-pattern', doubled, { bolster: few });
    expect(finding).toMatchObject({ verdict: 'stop', situation: 'hole-off', figures: { partner: 'none' } });
    const leave = finding.cures.find(({ code }) => code === 'leave-out-holes');
    const out = listOf(leave, 'holeNumbers');
    const left = { ...doubled, bolts: doubled.bolts.filter((_, index) => !out.includes(index + 1)) };
    expect(left.bolts).toHaveLength(4);
    expect(fitFinding('bolt-pattern', left, { bolster: few }).verdict).toBe('clear');
  });

  it('a plate with dowels fits by its screws, and says that no dowel holes are on record', () => {
    const dowelled = { ...plain, dowels: boltsAt(6, [-60, 0], [60, 0]) };
    const finding = fitFinding('bolt-pattern', dowelled);
    expect(finding).toMatchObject({ verdict: 'clear', situation: 'fits-with-dowels' });
    expect(finding.places).toHaveLength(2);
    expect(wordFinding(finding).summary).toMatch(/no dowel holes are on record.*off its face/);
    expect(wordFinding(finding).advice).toMatch(/by hand first/);
  });

  it('a feed off the sprue is moved, and the pocket is widened where a little is enough', () => {
    const random = seeded(5);
    for (let n = 0; n < 30; n++) {
      const off = { x: 1 + random(), y: -1 - random() };
      const drawing = movedDrawing(madeDrawing({ bolts: corners, feed: { at: off } }), random() * 360, {
        x: 9,
        y: 4,
      });
      const finding = fitFinding('feed-on-sprue', withCavity(drawing));
      expect(finding.verdict).toBe('stop');
      const cure = finding.cures.find(({ code }) => code === 'move-feed');
      const at = { x: Number(cure?.figures.toXMm), y: Number(cure?.figures.toYMm) };
      const moved = withCavity({ ...drawing, feed: { ...drawing.feed, at } });
      expect(fitFinding('feed-on-sprue', moved).verdict).toBe('clear');
    }
    const near = withCavity(madeDrawing({ bolts: corners, feed: { at: { x: 0.6, y: 0 } } }));
    const widen = fitFinding('feed-on-sprue', near).cures.find(({ code }) => code === 'widen-feed');
    const diameterMm = widen?.amount ?? 0;
    const wide = { ...near, feed: { ...near.feed, drawnDiameterMm: diameterMm, diameterMm } };
    expect(fitFinding('feed-on-sprue', wide).verdict).toBe('clear');
  });

  it('a pocket smaller than the sprue is an undercut', () => {
    const tight = withCavity(madeDrawing({ bolts: corners, feed: { drawnDiameterMm: 3, diameterMm: 3 } }));
    const finding = fitFinding('feed-on-sprue', tight);
    expect(finding).toMatchObject({ verdict: 'stop', situation: 'undercut', margin: -0.5 });
    expect(finding.cures[0]).toMatchObject({ code: 'widen-feed', amount: 3.5 });
    const point = withCavity(
      madeDrawing({ bolts: corners, feed: { drawnDiameterMm: null, diameterMm: 3.5 } }),
    );
    expect(fitFinding('feed-on-sprue', point).verdict).toBe('clear');
  });

  it('a plate over the face is trimmed', () => {
    const finding = fitFinding('face', sampleDrawing('plate-too-wide.dxf'));
    expect(finding.cures[0]).toMatchObject({
      code: 'trim-plate',
      figures: { rightMm: 5, topMm: 5, leftMm: 5, bottomMm: 5 },
    });
    const trimmed = withCavity(madeDrawing({ bolts: corners, outline: rectangle(200, 160) }));
    expect(fitFinding('face', trimmed)).toMatchObject({ verdict: 'clear', figure: 0 });
  });

  it('a plate inside the face but over the tie bars is stopped', () => {
    const press = { ...demoPress, clamp: { ...demoPress.clamp, tieBarsWidthMm: 170 } };
    expect(fitFinding('face', plain, { press }).situation).toBe('hits-tie-bars');
  });

  it('a cavity near a bolt hole, the edge or a dowel is moved as the cure says', () => {
    for (const centre of [
      { x: 60, y: -55 },
      { x: 0, y: 58 },
      { x: 71, y: -52 },
    ]) {
      const near = (at: typeof centre) =>
        madeDrawing({
          bolts: corners,
          over: { features: features({ CAVITY: pocket(4, rectangle(26, 18, at)) }) },
        });
      const finding = fitFinding('walls', near(centre));
      expect(finding.verdict).not.toBe('clear');
      const [cure] = finding.cures;
      const moved = { x: centre.x + Number(cure?.figures.dxMm), y: centre.y + Number(cure?.figures.dyMm) };
      expect(fitFinding('walls', near(moved)).verdict).toBe('clear');
    }
  });
});

function withCavity(drawing: MeasuredDrawing): MeasuredDrawing {
  return { ...drawing, features: cavity };
}

function listOf(cure: Cure | undefined, name: string): readonly number[] {
  const list = cure?.figures[name];
  return typeof list === 'object' ? list : [];
}

function withMoves(drawing: MeasuredDrawing, cure: Cure | undefined): MeasuredDrawing {
  const holes = listOf(cure, 'holeNumbers');
  const xs = listOf(cure, 'toXMm');
  const ys = listOf(cure, 'toYMm');
  return {
    ...drawing,
    bolts: drawing.bolts.map((bolt, index) => {
      const move = holes.indexOf(index + 1);
      return move < 0 ? bolt : { ...bolt, at: { x: xs[move] ?? 0, y: ys[move] ?? 0 } };
    }),
  };
}

it('rules are the shop’s: a looser plate tolerance narrows the allowance', () => {
  const spread = withCavity(madeDrawing({ bolts: boltsAt(6.6, [-80.18, 0 + 20], [80.18, 20]) }));
  expect(fitFinding('bolt-pattern', spread).situation).not.toBe('hole-off');
  const rules = { ...demoRules, plateHolePositionMm: 0.1 };
  expect(fitFinding('bolt-pattern', spread, { rules }).verdict).toBe('stop');
});
