import { describe, expect, it } from 'vitest';
import { pressurePerNewton } from '../../../server/engineering/clamp/bearing.js';
import { checkLandPressure } from '../../../server/engineering/clamp/check-land-pressure.js';
import { checkPartingLine } from '../../../server/engineering/clamp/check-parting-line.js';
import { clampCaseOf } from '../../../server/engineering/clamp/clamp-case.js';
import { closingRatio } from '../../../server/engineering/clamp/closing.js';
import { momentsOfBoth } from '../../../server/engineering/clamp/joined-moments.js';
import type { MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import type { Placement } from '../../../server/engineering/fit/registration-result.js';
import { momentsOf } from '../../../server/engineering/geometry/area.js';
import { findPolymer, type Polymer } from '../../../server/engineering/polymers/polymers.js';
import type { BolsterFacts, PlateFacts, PressFacts } from '../../../server/engineering/press-facts.js';
import { wordFinding } from '../../../server/words/index.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../../support/gullwing.js';
import { handDrawing, rectangle } from '../../support/hand-drawing.js';
import { placedAt } from '../../support/hand-registration.js';

const NO_SINKS: PlateFacts = {
  ...samplePlate,
  screw: { size: 'M6', lengthMm: 20, headSinkDepthMm: null, headSinkDiameterMm: null },
};

function caseOf(
  drawing: MeasuredDrawing,
  changes: {
    readonly plate?: Partial<PlateFacts>;
    readonly bolster?: Partial<BolsterFacts>;
    readonly clamp?: Partial<PressFacts['clamp']>;
    readonly placement?: Placement;
  } = {},
) {
  const given = {
    drawing,
    plate: { ...NO_SINKS, ...changes.plate },
    polymer: findPolymer('PP') as Polymer,
    bolster: { ...demoBolster, ...changes.bolster },
    press: { ...demoPress, clamp: { ...demoPress.clamp, ...changes.clamp } },
  };
  return clampCaseOf(given, placedAt(changes.placement), demoRules);
}

/** 60 x 50 mm with a 10 x 20 mm pocket: 2800 mm2 of land. */
const small = handDrawing({
  plate: { x: 0, y: 0, widthMm: 60, heightMm: 50 },
  cavities: [{ x: 0, y: 0, widthMm: 10, heightMm: 20, depthMm: 3 }],
});

/** The whole plate on one side of the sprue, fed at its end. */
const endFed = handDrawing({
  plate: { x: 0, y: 40, widthMm: 60, heightMm: 100 },
  cavities: [{ x: 0, y: 45, widthMm: 20, heightMm: 60, depthMm: 2 }],
});

describe('pressure on the land', () => {
  it('2800 mm2 at 120 MPa (half the 240 MPa of 16 mm EN AW-6082-T6) carry 336 kN at most', () => {
    const finding = checkLandPressure(caseOf(small));
    expect(finding).toMatchObject({ verdict: 'clear', situation: 'window', unit: 'kN' });
    expect(finding.figure).toBeCloseTo(336, 6);
    expect(finding.figures.windowMaxKn).toBeCloseTo(336, 6);
    expect(finding.figures.windowMinKn).toBe(50);
  });

  it('the press cuts the window where it gives less than the land carries', () => {
    const { figures } = checkLandPressure(caseOf(small, { clamp: { maxKn: 200 } }));
    expect(figures.windowMaxKn).toBe(200);
  });

  it.each([
    [335.9, 'clear', 'window'],
    [336.1, 'caution', 'window-empty'],
    [671.9, 'caution', 'window-empty'],
    [672.1, 'stop', 'crushed'],
  ])('a press that cannot be set below %f kN: %s', (minKn, verdict, situation) => {
    const finding = checkLandPressure(caseOf(small, { clamp: { minKn, maxKn: 1000 } }));
    expect(finding).toMatchObject({ verdict, situation });
  });

  it('a proof stress from memory never stops a plate', () => {
    const finding = checkLandPressure(
      caseOf(small, { plate: { alloy: 'cast-plate' }, clamp: { minKn: 400, maxKn: 1000 } }),
    );
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'window-empty' });
  });

  it.each([
    [60, 'clear'],
    [17.8, 'stop'],
  ])('a bolster face recorded for %f MPa: %s', (allowableFacePressureMpa, verdict) => {
    expect(checkLandPressure(caseOf(small, { bolster: { allowableFacePressureMpa } })).verdict).toBe(verdict);
  });

  it('offers the softest alloy that would carry it, and that alloy clears it', () => {
    const given = { clamp: { minKn: 370, maxKn: 1000 } };
    const cure = checkLandPressure(caseOf(small, given)).cures.find(({ code }) => code === 'harder-alloy');
    expect(cure?.change).toEqual({ alloy: 'steel' });
    expect(checkLandPressure(caseOf(small, { ...given, plate: { alloy: 'steel' } })).verdict).toBe('clear');
  });

  it('names the window to clamp in when the near side would take too much if the platens tilt', () => {
    // Far off centre on a soft plate: tilting, the near side passes 55 MPa before the far side closes.
    const offCentre = handDrawing({
      plate: { x: 0, y: 0, widthMm: 110, heightMm: 60 },
      cavities: [{ x: 30, y: 0, widthMm: 40, heightMm: 40, depthMm: 3 }],
    });
    const finding = checkLandPressure(caseOf(offCentre, { plate: { alloy: 'cast-plate' } }));
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'narrow-when-tilting' });
    const { windowMinKn, windowMaxKn, carriedTiltingKn, neededKn } = finding.figures;
    expect(finding.margin).toBeCloseTo(Number(carriedTiltingKn) - Number(neededKn), 6);
    expect(finding.margin).toBeLessThan(0);
    expect(windowMinKn).toBeCloseTo((1600 * 48 * 1.2) / 1000, 6);
    expect(finding.cures[0]).toMatchObject({ code: 'clamp-between', figures: { windowMinKn, windowMaxKn } });
    const unguided = caseOf(offCentre, { plate: { alloy: 'cast-plate' }, clamp: { platensGuided: false } });
    expect(checkLandPressure(unguided)).toMatchObject({ verdict: 'caution', situation: 'empty-unguided' });
    const [harder] = checkLandPressure(unguided).cures;
    const mended = caseOf(offCentre, {
      plate: { ...harder?.change } as object,
      clamp: { platensGuided: false },
    });
    expect(harder?.code).toBe('harder-alloy');
    expect(checkLandPressure(mended).verdict).toBe('clear');
    expect(wordFinding(checkLandPressure(unguided)).summary).toMatch(/not guided.*No setting does both\.$/);
    expect(Number(windowMaxKn)).toBeCloseTo((55 * (110 * 60 - 40 * 40)) / 1000, 6);
  });

  it('given head sinks take land away, drawn ones win over them', () => {
    const bolted = { ...small, bolts: [{ at: { x: 20, y: 15 }, diameterMm: 6.6 }] };
    const bare = caseOf(bolted).land.moments.areaMm2;
    const sunk = caseOf(bolted, { plate: { screw: samplePlate.screw } }).land.moments.areaMm2;
    expect(bare).toBeCloseTo(2800 - (Math.PI * 6.6 ** 2) / 4, 0);
    expect(sunk).toBeCloseTo(2800 - (Math.PI * 11 ** 2) / 4, 0);
  });
});

describe('the window', () => {
  it('is empty where the press cannot give what is needed: stop when the middle of the band passes it', () => {
    const drawing = handDrawing({
      plate: { x: 0, y: 0, widthMm: 80, heightMm: 80 },
      cavities: [{ x: 0, y: 0, widthMm: 40, heightMm: 30, depthMm: 3 }],
    });
    // 69.1 kN at the top of the band, 49.7 kN in its middle.
    for (const [maxKn, verdict] of [
      [65, 'caution'],
      [42, 'stop'],
    ] as const) {
      const finding = checkLandPressure(caseOf(drawing, { clamp: { minKn: 1, maxKn } }));
      expect(finding).toMatchObject({ verdict, situation: 'beyond-press', figure: maxKn });
      expect(finding.margin).toBeCloseTo(maxKn - 69.12, 6);
    }
  });
});

describe('parting line', () => {
  it('a centred plate closes from the required force, tilting or not', () => {
    const finding = checkPartingLine(caseOf(small, { clamp: { minKn: 1 } }));
    expect(finding).toMatchObject({ verdict: 'clear', situation: 'closes', unit: 'kN' });
    expect(finding.figure).toBeCloseTo((200 * 48 * 1.2) / 1000, 6);
  });

  it('a plate to one side of the sprue is served: a caution with a pad, never a stop', () => {
    const given = caseOf(endFed);
    const finding = checkPartingLine(given);
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'opens-if-tilting' });
    const [pad] = finding.cures;
    expect(pad?.code).toBe('pads');
    expect(pad?.figures.fromSprueYMm).toBeLessThan(-10);
  });

  it('the pad it offers lies over a free tapped hole, and closes the plate at the force it says', () => {
    const given = caseOf(endFed);
    const [pad] = checkPartingLine(given).cures;
    const figure = (name: string) => Number(pad?.figures[name]);
    const middle = { x: figure('fromSprueXMm'), y: figure('fromSprueYMm') };
    const padRing = rectangle({ ...middle, widthMm: figure('widthMm'), heightMm: figure('heightMm') });
    const screw = { x: figure('screwXMm'), y: figure('screwYMm') };
    expect(demoBolster.holes.map(({ at }) => at)).toContainEqual(screw);
    // 5.5 mm of sink and 3 mm of rim.
    expect(Math.abs(screw.x - middle.x)).toBeLessThanOrEqual(figure('widthMm') / 2 - 8.5);
    expect(Math.abs(screw.y - middle.y)).toBeLessThanOrEqual(figure('heightMm') / 2 - 8.5);
    const sink = Array.from({ length: 720 }, (_, i) => ({
      x: screw.x + 5.5 * Math.cos((-i * Math.PI) / 360),
      y: screw.y + 5.5 * Math.sin((-i * Math.PI) / 360),
    }));
    const both = momentsOfBoth(given.land.moments, momentsOf([padRing, sink]));
    const { ratio } = closingRatio(both, [...given.land.rim, ...padRing], given.land.pushAt);
    expect(ratio * given.force.requiredMaxKn).toBeCloseTo(figure('closesFromKn'), 2);
    const peakMpa = (clampKn: number) =>
      Math.max(
        ...[...given.land.hull, ...padRing].map(
          (corner) => 1000 * clampKn * pressurePerNewton(both, { x: 0, y: 0 }, corner),
        ),
      );
    expect(figure('highestKn')).toBeGreaterThan(figure('closesFromKn'));
    expect(figure('highestKn')).toBeLessThanOrEqual(demoPress.clamp.maxKn);
    if (figure('highestKn') < demoPress.clamp.maxKn) expect(peakMpa(figure('highestKn'))).toBeCloseTo(120, 1);
    const also = wordFinding(checkPartingLine(given)).cures[0]?.also;
    expect(also).toMatch(/Screwed down, its head sunk, with M6.*a loose block falls.*never set more than/);
  });

  it('no pad is offered where no tapped hole is free to screw it to', () => {
    for (const holes of [[], demoBolster.holes.map((hole) => ({ ...hole, thread: 'M8' }))]) {
      const { cures, situation } = checkPartingLine(caseOf(endFed, { bolster: { holes } }));
      expect(situation).toBe('opens-if-tilting');
      expect(cures.map(({ code }) => code)).not.toContain('pads');
    }
    const used = placedAt();
    const matches = demoBolster.holes.map((_, hole) => ({
      ...{ bolt: hole, hole, error: { x: 0, y: 0 }, errorMm: 0, allowanceMm: 0.2, matched: true },
    }));
    const given = { ...caseOf(endFed), registration: { ...used, matches } };
    expect(checkPartingLine(given).cures.map(({ code }) => code)).not.toContain('pads');
  });

  it('a pad is screwed on with any of the screws that the plate has, with room for that one’s head', () => {
    const screw = { size: 'M8', lengthMm: 25, headSinkDepthMm: 9, headSinkDiameterMm: 15 };
    const plate = { screwGroups: [{ holeDiameterMm: 9, holes: [], screw }] };
    const bolster = { holes: demoBolster.holes.map((hole) => ({ ...hole, thread: 'M8' })) };
    const [pad] = checkPartingLine(caseOf(endFed, { plate, bolster })).cures;
    expect(pad).toMatchObject({ code: 'pads', figures: { screwSize: 'M8' } });
    const figure = (name: string) => Number(pad?.figures[name]);
    // DIN 974-1: a counterbore of 15 mm for M8; half of it, and 3 mm of rim.
    const inside = Math.abs(figure('screwXMm') - figure('fromSprueXMm'));
    expect(inside).toBeLessThanOrEqual(figure('widthMm') / 2 - 10.5);
    expect(figure('heightMm')).toBeGreaterThanOrEqual(21);
  });

  it('tells the worst place in the drawing, wherever it was drawn and however it lies', () => {
    const turned = { rotationDeg: 90, shift: { x: 0.1, y: 0 } };
    const [place] = checkPartingLine(caseOf(endFed, { placement: turned })).places;
    expect(place?.y).toBeCloseTo(75, 6);
    expect(Math.abs(place?.x ?? 0)).toBeCloseTo(10, 6);
  });

  it.each([
    [500, 'clear'],
    [65, 'caution'],
    [42, 'stop'],
  ])('a 1200 mm2 square in the middle on a %f kN press: %s', (maxKn, verdict) => {
    const drawing = handDrawing({
      plate: { x: 0, y: 0, widthMm: 80, heightMm: 80 },
      cavities: [{ x: 0, y: 0, widthMm: 40, heightMm: 30, depthMm: 3 }],
    });
    // 69.1 kN at the top of the band, 49.7 kN in its middle.
    expect(checkPartingLine(caseOf(drawing, { clamp: { minKn: 1, maxKn } })).verdict).toBe(verdict);
  });

  it.each([
    [2600, 'opens-if-tilting', 'caution'],
    [2500, 'top-of-band-over-eccentric-limit', 'caution'],
    [1800, 'over-eccentric-limit', 'stop'],
  ])('a maker who allows %i kN mm off centre: %s', (limitKnMm, situation, verdict) => {
    // 1200 mm2, 45 mm off: 2592 kN mm at 48 MPa, 1863 at 34.5.
    const finding = checkPartingLine(caseOf(endFed, { clamp: { eccentricMomentNmm: limitKnMm * 1000 } }));
    expect(finding).toMatchObject({ situation, verdict });
  });

  const offCentre = handDrawing({
    plate: { x: 0, y: 0, widthMm: 150, heightMm: 90 },
    cavities: [{ x: 40, y: 0, widthMm: 40, heightMm: 60, depthMm: 3 }],
  });

  it.each([
    // Closes tilting from 294.8 kN, guided from 138.2.
    [500, null, 'clear', 'closes-off-centre'],
    [370, null, 'clear', 'closes-off-centre'],
    [367, null, 'caution', 'little-room'],
    [367, 1e8, 'clear', 'closes'],
  ] as const)(
    'a load off centre on a %i kN press, the maker’s limit %s: %s, %s',
    (maxKn, limit, verdict, situation) => {
      const finding = checkPartingLine(caseOf(offCentre, { clamp: { maxKn, eccentricMomentNmm: limit } }));
      expect(finding).toMatchObject({ verdict, situation, limit: maxKn });
      expect(finding.margin).toBeCloseTo(maxKn - (finding.figure ?? 0), 9);
      const isPractice = situation === 'little-room';
      expect(finding.basis).toBe(isPractice ? 'practice' : 'computed');
      if (limit === null)
        expect(wordFinding(finding).note).toMatch(/limit for an eccentric load is not on record/);
    },
  );

  it('a small cavity 35 mm beside the feed is served without a caution', () => {
    const beside = handDrawing({
      plate: { x: 0, y: 0, widthMm: 150, heightMm: 90 },
      cavities: [{ x: 35, y: 0, widthMm: 30, heightMm: 30, depthMm: 3 }],
    });
    const finding = checkPartingLine(caseOf(beside));
    expect(finding).toMatchObject({ verdict: 'clear', situation: 'closes-off-centre' });
    expect(finding.margin).toBeGreaterThan(300);
  });

  it('platens that are not guided are told to open where free ones do, in other words than guided ones', () => {
    const unguided = checkPartingLine(caseOf(endFed, { clamp: { platensGuided: false } }));
    expect(unguided).toMatchObject({ verdict: 'caution', situation: 'opens-unguided' });
    expect(wordFinding(unguided).summary).toContain('the platens of this press are not guided');
    expect(checkPartingLine(caseOf(endFed)).situation).toBe('opens-if-tilting');
  });

  it('says how much nearer to the sprue the load must come, and there it just closes at that force', () => {
    const given = caseOf(offCentre, { clamp: { maxKn: 350 } });
    const cure = checkPartingLine(given).cures.find(({ code }) => code === 'towards-sprue');
    const pushAt = { x: 40 - (cure?.amount ?? 0), y: 0 };
    const { ratio } = closingRatio(given.land.moments, given.land.rim, pushAt);
    expect(ratio * given.force.requiredMaxKn).toBeCloseTo(0.8 * 350, 3);
  });

  it('a plate without land is a stop in both checks, with no figure that is not a number', () => {
    const drawing = handDrawing({
      plate: { x: 0, y: 0, widthMm: 40, heightMm: 40 },
      cavities: [{ x: 0, y: 0, widthMm: 50, heightMm: 50, depthMm: 3 }],
    });
    for (const finding of [checkPartingLine(caseOf(drawing)), checkLandPressure(caseOf(drawing))]) {
      expect(finding).toMatchObject({ verdict: 'stop', situation: 'no-land' });
      for (const value of Object.values(finding.figures)) expect(value).not.toBeNaN();
    }
  });
});
