import { describe, expect, it } from 'vitest';
import type { MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import { landing } from '../../../server/engineering/fit/placing.js';
import { registerPlate } from '../../../server/engineering/fit/register-plate.js';
import { demoBolster, demoRules, keyedBolster } from '../../support/gullwing.js';
import { BRUTE_FORCE_BAND_MM, bruteForceSeat } from './brute-force-seat.js';
import { boltsAt, madeDrawing, movedDrawing, rectangle } from './made-drawing.js';
import { seeded } from './seeded.js';

const corners = boltsAt(6.6, [-80, -60], [80, -60], [80, 60], [-80, 60]);
const uneven = boltsAt(6.6, [-80, -60], [0, -60], [80, -60], [80, 20]);

function register(drawing: MeasuredDrawing, bolster = demoBolster) {
  return registerPlate(drawing, bolster, 6, demoRules);
}

describe('a pattern that is on the grid', () => {
  it('goes on square, with the feed on the sprue and nothing turned', () => {
    const registration = register(madeDrawing({ bolts: corners }));
    expect(registration).toMatchObject({
      fits: true,
      rotationDeg: 0,
      floatMm: { x: 0, y: 0 },
      worstErrorMm: 0,
      worstErrorAfterFloatMm: 0,
      leastFeedOffsetMm: 0,
    });
    expect(registration.allowanceMm).toBeCloseTo(0.2, 9);
    expect(registration.matches.map((match) => match.matched)).toEqual([true, true, true, true]);
  });

  it.each([0, 90, 180, 270, 33.3, 211.07])('turned by %d degrees it is the same plate', (turnDeg) => {
    const registration = register(movedDrawing(madeDrawing({ bolts: uneven }), turnDeg, { x: 512, y: -37 }));
    expect(registration.fits).toBe(true);
    expect(registration.worstErrorMm).toBeLessThan(1e-5);
    const back = ((-turnDeg % 180) + 180) % 180;
    expect((registration.rotationDeg ?? 0) % 180).toBeCloseTo(back, 4);
  });

  it('is never taken mirrored: the back of a keyed plate does not go on, and the mirror image is told', () => {
    const keyed = madeDrawing({ bolts: boltsAt(6.6, [-80, -60], [0, -60], [80, -60], [80, 60]) });
    const registration = register(keyed, keyedBolster);
    expect(registration).toMatchObject({ fits: false, holesFit: false, mirroredFits: true });
    expect(register(movedDrawing(keyed, 0, { x: 0, y: 0 }, true), keyedBolster).fits).toBe(true);
  });

  it('with no bolt holes says nothing', () => {
    expect(register(madeDrawing())).toMatchObject({
      fits: false,
      rotationDeg: null,
      worstErrorMm: null,
      matches: [],
    });
  });

  it('does not take tapped holes of another thread', () => {
    const registration = registerPlate(madeDrawing({ bolts: corners }), demoBolster, 8, demoRules);
    expect(registration).toMatchObject({ fits: false, placement: null });
  });

  it('gives each hole a tapped hole of its own', () => {
    const doubled = madeDrawing({ bolts: [...corners, ...boltsAt(6.6, [80, 60])] });
    const registration = register(doubled);
    expect(registration.holesFit).toBe(false);
    const partners = registration.matches.map((match) => match.hole);
    expect(new Set(partners).size).toBe(partners.length);
  });

  it('tells holes that fit from an outline that does not', () => {
    const wide = madeDrawing({ bolts: corners, outline: rectangle(210, 170) });
    expect(register(wide)).toMatchObject({ fits: false, holesFit: true, feedFits: true, outlineFits: false });
  });
});

describe('what does not fit is told apart', () => {
  it('one hole 3 mm off: the others land, and that one is named with how far and which way', () => {
    const registration = register(
      madeDrawing({ bolts: boltsAt(6.6, [-80, -20], [-80, 20], [80, -20], [83, 20]) }),
    );
    expect(registration.holesFit).toBe(false);
    expect(registration.feedFits).toBe(true);
    expect(registration.worstErrorMm).toBeCloseTo(3, 6);
    expect(registration.worstErrorAfterFloatMm).toBeLessThanOrEqual(1.5 + 1e-4);
    expect(registration.placement).toEqual({ rotationDeg: 0, shift: { x: 0, y: 0 } });
    expect(registration.matches.map((match) => match.matched)).toEqual([true, true, true, false]);
    expect(registration.matches[3]?.error).toEqual({ x: 3, y: 0 });
  });

  it('a feed off the sprue does not blame the holes', () => {
    const shifted = madeDrawing({ bolts: corners, feed: { at: { x: 1.5, y: 2 } } });
    const registration = register(shifted);
    expect(registration).toMatchObject({ fits: false, holesFit: true, feedFits: false });
    expect(registration.worstErrorMm).toBeCloseTo(2.5, 6);
    expect(registration.worstErrorAfterFloatMm).toBeLessThan(1e-4);
    expect(registration.feedOffset?.x).toBeCloseTo(1.5, 4);
    expect(registration.feedOffset?.y).toBeCloseTo(2, 4);
    expect(registration.leastFeedOffsetMm).toBeCloseTo(2.3, 3);
  });

  it.each([
    [0.2, true],
    [0.1999, true],
    [0.2012, false],
  ])('two holes %d mm too far apart each way: fits %s', (offMm, fits) => {
    const spread = madeDrawing({ bolts: boltsAt(6.6, [-80 - offMm, 20], [80 + offMm, 20]) });
    expect(register(spread).fits).toBe(fits);
  });
});

describe('against a brute-force search', () => {
  const SEED = 20_261;
  const CASES = 48;

  it(`says the same as every tenth of a degree tried in turn (seed ${SEED}, ${CASES} patterns)`, () => {
    const random = seeded(SEED);
    let fitting = 0;
    let judged = 0;
    for (let n = 0; n < CASES; n++) {
      const drawing = jitteredPattern(random);
      const oracle = bruteForceSeat(drawing, demoBolster, 6, demoRules);
      const registration = register(drawing);
      if (Math.abs(oracle.withFeedMm) < BRUTE_FORCE_BAND_MM) continue;
      judged++;
      if (oracle.withFeedMm < 0) fitting++;
      expect(registration.holesFit && registration.feedFits, `pattern ${n}, ${oracle.withFeedMm} mm`).toBe(
        oracle.withFeedMm < 0,
      );
      const excessMm = Math.max(...registration.matches.map((match) => match.errorMm - match.allowanceMm));
      if (registration.holesFit)
        expect(excessMm).toBeLessThanOrEqual(oracle.withFeedMm + BRUTE_FORCE_BAND_MM);
    }
    expect(fitting).toBeGreaterThan(judged / 5);
    expect(judged - fitting).toBeGreaterThan(judged / 5);
  });

  it('reports a motion that is rigid, not mirrored, and brings every hole within its allowance', () => {
    const random = seeded(7);
    for (let n = 0; n < 200; n++) {
      const drawing = jitteredPattern(random);
      const registration = register(drawing);
      if (!registration.holesFit || registration.placement === null) continue;
      for (const match of registration.matches) {
        const bolt = drawing.bolts[match.bolt];
        const tapped = demoBolster.holes[match.hole ?? -1];
        if (bolt === undefined || tapped === undefined) throw new Error('a fitting hole has its tapped hole');
        const at = landing(bolt.at, drawing.feed.at, registration.placement);
        const errorMm = Math.hypot(at.x - tapped.at.x, at.y - tapped.at.y);
        expect(errorMm).toBeCloseTo(match.errorMm, 5);
        expect(errorMm).toBeLessThanOrEqual((bolt.diameterMm - 6) / 2 - 0.1 + 1e-4);
      }
    }
  });
});

/** Two to six grid holes, each moved by up to about its allowance, the whole turned and moved anywhere. */
function jitteredPattern(random: () => number): MeasuredDrawing {
  const count = 2 + Math.floor(random() * 5);
  const holes = [...demoBolster.holes].sort(() => random() - 0.5).slice(0, count);
  const jitterMm = 0.15 + random() * 0.45;
  const bolts = holes.map(({ at }) => {
    const heading = random() * 2 * Math.PI;
    const far = jitterMm * Math.sqrt(random());
    const diameterMm = random() < 0.5 ? 6.6 : 7;
    return { at: { x: at.x + far * Math.cos(heading), y: at.y + far * Math.sin(heading) }, diameterMm };
  });
  const drawing = madeDrawing({ bolts });
  return movedDrawing(drawing, random() * 360, { x: random() * 1000 - 500, y: random() * 1000 - 500 });
}
