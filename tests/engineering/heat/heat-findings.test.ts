import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import { checkCooling } from '../../../server/engineering/heat/check-cooling.js';
import { checkPlateWarming } from '../../../server/engineering/heat/check-plate-warming.js';
import { sectionCoolingS } from '../../../server/engineering/heat/cycle.js';
import { ceilingOf } from '../../../server/engineering/heat/plate-ceiling.js';
import { minutesTo, plateWarming } from '../../../server/engineering/heat/plate-warming.js';
import { type MeltCase, meltCaseOf } from '../../../server/engineering/melt/melt-case.js';
import { findPolymer, POLYMERS, type Polymer } from '../../../server/engineering/polymers/polymers.js';
import type { BolsterFacts, PressFacts } from '../../../server/engineering/press-facts.js';
import { wordFinding } from '../../../server/words/en/findings.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../../support/gullwing.js';

/** A bench machine: a plate between two thin blocks, next to nothing behind them. */
const BENCH_BOLSTER: BolsterFacts = {
  ...demoBolster,
  face: { ...demoBolster.face, widthMm: 120, heightMm: 100 },
  halfThicknessMm: { moving: 10, fixed: 10 },
  halfMaterial: 'EN AW-6082-T6',
};
const BENCH_PRESS: PressFacts = {
  ...demoPress,
  clamp: { ...demoPress.clamp, tieBarsWidthMm: 120, tieBarsHeightMm: 100 },
  platenThicknessMm: 10,
};

function meltOf(name: string, symbol = 'PP', bolster = demoBolster, press = demoPress): MeltCase {
  const file = join(import.meta.dirname, '../../samples', `${name}.dxf`);
  const polymer = findPolymer(symbol);
  if (!polymer) throw new Error(symbol);
  const drawing = measureDxf(readFileSync(file), { sprueDiameterMm: 3.5 });
  return meltCaseOf({ drawing, plate: samplePlate, polymer, bolster, press });
}

function thickest({ sections: [first, ...others] }: MeltCase) {
  return others.reduce(
    (a, b) => (b.thicknessMm > a.thicknessMm ? b : a),
    first as MeltCase['sections'][number],
  );
}

const still = { roomC: 20, pauseS: 0, waterC: null };

describe('plate warming', () => {
  /** Common practice, no source: too hot to touch in ten to twenty minutes on a bench machine, a large bolster good for an hour or two. */
  it('a small plate on a bench machine is too hot to touch in some ten to thirty minutes, on a bolster it is not', () => {
    const bench = minutesTo(
      plateWarming(meltOf('board-counter-8up', 'PP', BENCH_BOLSTER, BENCH_PRESS), still),
      65,
    );
    expect(bench).not.toBeNull();
    expect(bench ?? NaN).toBeGreaterThan(8);
    expect(bench ?? NaN).toBeLessThan(30);
    const bolster = minutesTo(plateWarming(meltOf('board-counter-8up'), still), 65);
    expect(bolster ?? Infinity).toBeGreaterThan(60);
  });

  it('starts at the room and rises to where it settles', () => {
    const { plateC, steadyPlateC } = plateWarming(meltOf('board-counter-8up'), still);
    expect(plateC[0]).toBe(20);
    for (let i = 1; i < plateC.length; i++) expect(plateC[i]).toBeGreaterThanOrEqual(plateC[i - 1] as number);
    expect(plateC.at(-1)).toBeLessThanOrEqual(steadyPlateC);
  });

  it('in the first minutes it rises by the heat of the shots over the heat the plate takes up', () => {
    const melt = meltOf('board-counter-8up');
    const { heatPerShotJ } = plateWarming(melt, still);
    const areaM2 = melt.drawing.plate.areaMm2 * 1e-6;
    // Density 2700 kg/m3, 900 J/(kg K): an aluminium plate alone would rise by this with every shot.
    const aloneK = heatPerShotJ / (areaM2 * 0.016 * 2700 * 900);
    const { plateC } = plateWarming(melt, still);
    const perShotK = ((plateC[1] as number) - 20) / (30 / melt.cycle.totalS);
    expect(perShotK).toBeGreaterThan(0.2 * aloneK);
    expect(perShotK).toBeLessThan(aloneK);
  });

  it('without a number of shots it gives minutes and is never worse than clear', () => {
    for (const symbol of ['PP', 'PC', 'PA6', 'POM']) {
      const finding = checkPlateWarming(meltOf('drawer-pull', symbol), demoRules, {
        shots: null,
        chiller: false,
      });
      expect(finding.verdict).toBe('clear');
      expect(finding.limit).toBeNull();
    }
  });

  it('acetal on a cold plate is a caution, and says so', () => {
    const finding = checkPlateWarming(meltOf('tile-spacer-4up', 'POM'), demoRules, {
      shots: 50,
      chiller: false,
    });
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'too-cold' });
    expect(wordFinding(finding).summary).toMatch(/wants at least/);
  });

  it('the pause it proposes keeps the plate below its ceiling', () => {
    const melt = meltOf('board-counter-8up', 'PP', BENCH_BOLSTER, BENCH_PRESS);
    const finding = checkPlateWarming(melt, demoRules, { shots: 600, chiller: false });
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'over-ceiling' });
    const pause = finding.cures.find(({ code }) => code === 'pause');
    expect(pause).toBeDefined();
    const waited = plateWarming(melt, { ...still, pauseS: pause?.amount ?? 0 });
    expect(waited.steadyPlateC).toBeLessThanOrEqual(Number(finding.limit));
    expect(finding.limit).toBe(70);
    const less = plateWarming(melt, { ...still, pauseS: (pause?.amount ?? 0) - 2 });
    expect(less.steadyPlateC).toBeGreaterThan(Number(finding.limit) - 0.5);
  });

  it.each(['POM', 'PVC-U', 'PVC-P', 'PBT'])(
    '%s waits in no barrel: no pause, but the shots until the ceiling',
    (symbol) => {
      const melt = meltOf('board-counter-8up', symbol, BENCH_BOLSTER, BENCH_PRESS);
      const finding = checkPlateWarming(melt, demoRules, { shots: 2000, chiller: false });
      expect(finding).toMatchObject({ verdict: 'caution', situation: 'over-ceiling' });
      expect(finding.cures.map(({ code }) => code)).toEqual(['fewer-shots']);
      const shots = finding.cures[0]?.amount ?? 0;
      expect(shots).toBeGreaterThan(0);
      const atOnce = checkPlateWarming(melt, demoRules, { shots, chiller: false });
      expect(atOnce.situation).not.toBe('over-ceiling');
      const { advice } = wordFinding(finding);
      expect(advice).toMatch(/No pauses with .*back the screw off and purge/);
      expect(advice).not.toMatch(/a pause after every shot/);
    },
  );

  /** The lesser of the hottest mould and 10 K below the usual ejection; common practice, no source. */
  it.each([
    ['PP', 70, 'ejection'],
    ['HDPE', 42, 'ejection'],
    ['LDPE', 40, 'ejection'],
    ['PET', 60, 'ejection'],
    ['PC', 117, 'ejection'],
    ['PETG', 40, 'mould'],
  ] as const)('%s: a plate of at most %d °C, by its %s', (symbol, celsius, by) => {
    expect(ceilingOf(findPolymer(symbol) as Polymer)).toMatchObject({ celsius, by });
  });

  it('a plate at 79 °C is too hot for polypropylene that comes out at 80, and the words say why', () => {
    const melt = meltOf('board-counter-8up', 'PP', BENCH_BOLSTER, BENCH_PRESS);
    const at79 = minutesTo(plateWarming(melt, still), 79) ?? NaN;
    const shots = Math.floor((at79 * 60) / melt.cycle.totalS);
    const finding = checkPlateWarming(melt, demoRules, { shots, chiller: false });
    expect(finding.figure ?? 0).toBeGreaterThan(75);
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'over-ceiling' });
    expect(wordFinding(finding).summary).toContain('70 °C, 10 K below the 80 °C at which its parts are firm');
  });

  it('PET is judged amorphous in a cold plate, and no crystalline set gets into its bands', () => {
    const melt = meltOf('tile-spacer-4up', 'PET');
    const warming = checkPlateWarming(melt, demoRules, { shots: 50, chiller: false });
    expect(warming.figures.state).toBe('amorphous');
    expect(wordFinding(warming).summary).toMatch(/quenched amorphous in a cold plate/);
    const cooling = checkCooling(melt);
    expect(wordFinding(cooling).summary).toContain('amorphous: melt 275');
    const times = melt.polymer.temperatures.sets
      .filter(({ state }) => state === 'amorphous')
      .map((set) => sectionCoolingS(thickest(melt), melt.polymer, set));
    expect(cooling.figures.partMaxS).toBe(Math.max(...times));
    expect(times).toHaveLength(2);
  });

  it('says what ten seconds in the hand do, and asks for no hand past a guard', () => {
    const melt = meltOf('board-counter-8up', 'PP', BENCH_BOLSTER, BENCH_PRESS);
    const { advice } = wordFinding(checkPlateWarming(melt, demoRules, { shots: 600, chiller: false }));
    expect(advice).toMatch(/never past a guard that is bridged or held: from 55 °C on .* ten seconds/);
    expect(advice).toMatch(/65 °C on at a touch of a second/);
  });

  it('a packer keeps heat in the plate', () => {
    const melt = meltOf('drawer-pull');
    const packed = { ...melt, plate: { ...melt.plate, packerThicknessMm: 6 } };
    const wayTo = (one: MeltCase) =>
      plateWarming(one, still).balance.ways.find(({ to }) => to === 'moving-half')?.conductanceWPerK ?? NaN;
    // Two contacts instead of one and 6 mm of steel: areaM2 / (d/2k + 2/2000 + 0.006/45 + h/2k).
    const areaM2 = melt.drawing.plate.areaMm2 * 1e-6;
    expect(areaM2 / wayTo(packed) - areaM2 / wayTo(melt)).toBeCloseTo(1 / 2000 + 0.006 / 45, 9);
    expect(plateWarming(packed, still).steadyPlateC).toBeGreaterThan(plateWarming(melt, still).steadyPlateC);
  });

  it('water through the plate cools it, and colder than the dew point wets it', () => {
    const melt = meltOf('drawer-pull');
    const dry = plateWarming(melt, still).steadyPlateC;
    expect(plateWarming(melt, { ...still, waterC: 15 }).steadyPlateC).toBeLessThan(dry);
    const cold = { ...demoPress, chiller: { flowLPerMin: 10, waterC: 8 } };
    const finding = checkPlateWarming(meltOf('drawer-pull', 'PP', demoBolster, cold), demoRules, {
      shots: 50,
      chiller: true,
    });
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'wet', figure: 8 });
    const unsaid = { shots: null, chiller: true };
    expect(
      checkPlateWarming(meltOf('drawer-pull', 'PP', demoBolster, cold), demoRules, unsaid),
    ).toMatchObject({ verdict: 'caution', situation: 'wet' });
  });
});

describe('cooling', () => {
  it('is that of the slowest section, and says when the runner or the sprue is slower', () => {
    expect(checkCooling(meltOf('tile-spacer-4up'))).toMatchObject({
      verdict: 'clear',
      situation: 'part-governs',
    });
    const thin = checkCooling(meltOf('seed-label-2up'));
    expect(thin.situation).toBe('runner-governs');
    expect(thin.figure ?? 0).toBeGreaterThan(Number(thin.figures.partS));
  });

  it('a part twice as thick cools four times as long', () => {
    const melt = meltOf('tile-spacer-4up');
    const [section] = melt.sections;
    const twice = {
      ...melt,
      sections: melt.sections.map((one) => ({
        ...one,
        depthMm: 2 * one.depthMm,
        widthMm: 2 * one.widthMm,
        thicknessMm: 2 * one.thicknessMm,
      })),
    };
    expect(section).toBeDefined();
    expect(
      Number(checkCooling(twice).figures.partMaxS) / Number(checkCooling(melt).figures.partMaxS),
    ).toBeCloseTo(4, 6);
  });
});

it.each(POLYMERS.map(({ symbol }) => symbol))(
  '%s: heat findings are finite and have their words',
  (symbol) => {
    for (const name of ['tile-spacer-4up', 'drawer-pull', 'plant-tag-end-fed', 'tiny-token']) {
      const melt = meltOf(name, symbol);
      const runs = [
        { shots: null, chiller: false },
        { shots: 100, chiller: true },
      ];
      for (const finding of [
        checkCooling(melt),
        ...runs.map((run) => checkPlateWarming(melt, demoRules, run)),
      ]) {
        const numbers = [finding.figure, finding.margin, ...Object.values(finding.figures)].flat();
        for (const value of numbers) if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
        const words = wordFinding(finding);
        expect(`${words.summary} ${words.line} ${words.advice}`).not.toMatch(/NaN|undefined|Infinity/);
      }
    }
  },
);
