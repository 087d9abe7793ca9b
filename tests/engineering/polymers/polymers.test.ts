import { describe, expect, it } from 'vitest';
import { firstIncoherence } from '../../../server/engineering/polymers/coherence.js';
import { flowAt, viscosityPaS } from '../../../server/engineering/polymers/flow-at.js';
import { needsDrying } from '../../../server/engineering/polymers/needs-drying.js';
import { findPolymer, POLYMERS, type Polymer } from '../../../server/engineering/polymers/polymers.js';
import { residenceLimitMin } from '../../../server/engineering/polymers/residence-limit.js';
import { polymerSchema } from './polymer-schema.js';

const each = POLYMERS.map((polymer) => [polymer.symbol, polymer] as const);
const of = (symbol: string) => findPolymer(symbol) as Polymer;

describe('the polymer data', () => {
  it('has the twenty families that shops meet, each once', () => {
    expect(POLYMERS.map(({ symbol }) => symbol)).toEqual(
      'PP HDPE LDPE PS HIPS ABS SAN PA6 PA66 POM PC PMMA PET PETG PBT PVC-U PVC-P TPU TPE-S PLA'.split(' '),
    );
  });

  it.each(each)(
    '%s has every figure in its physical range, with a source that agrees with its basis',
    (_, polymer) => {
      expect(polymerSchema.safeParse(polymer).error).toBeUndefined();
    },
  );

  it.each(each)(
    '%s has sets that are published for melt and mould, from the coldest to the hottest',
    (_, polymer) => {
      const { meltC, mouldC, sets, mouldCeilingC, mouldFloorC } = polymer.temperatures;
      expect(sets.map(({ name }) => name)).toEqual(['low', 'usual', 'high']);
      for (const set of sets) {
        expect(set.meltC).toBeGreaterThanOrEqual(meltC.min);
        expect(set.meltC).toBeLessThanOrEqual(meltC.max);
        expect(set.mouldC).toBeGreaterThanOrEqual(mouldC.min);
        expect(set.mouldC).toBeLessThanOrEqual(Math.min(mouldC.max, mouldCeilingC.value));
        if (mouldFloorC !== null) expect(set.mouldC).toBeGreaterThanOrEqual(mouldFloorC.value);
      }
      for (const key of ['meltC', 'mouldC', 'ejectionC'] as const) {
        const ordered = sets.map((set) => set[key]);
        expect(ordered).toEqual([...ordered].sort((a, b) => a - b));
      }
      expect(mouldCeilingC.value).toBeLessThan(sets[2].ejectionC);
      expect(firstIncoherence(polymer)).toBeNull();
    },
  );

  it.each(each)(
    '%s: melt is lighter than solid, and what takes up water says how long it stays dry',
    (_, polymer) => {
      const { solidDensityGPerCm3, meltDensityGPerCm3, drying } = polymer;
      expect(meltDensityGPerCm3.max).toBeLessThan(solidDensityGPerCm3.max);
      if (drying === null) throw new Error('a family whose drying is not known');
      expect(drying.sealedUntilHours !== null).toBe(drying.hygroscopic);
      expect(drying.airOvenFactor !== null).toBe(drying.hygroscopic);
      if (drying.needed) expect(drying.hygroscopic).toBe(true);
    },
  );

  it('sees a mould that is hotter than the part at ejection', () => {
    const polymer = of('PP');
    const [low, usual, high] = polymer.temperatures.sets;
    const sets = [low, { ...usual, mouldC: 80 }, high] as const;
    const wrong = { ...polymer, temperatures: { ...polymer.temperatures, sets } };
    expect(firstIncoherence(wrong)).toMatchObject({
      code: 'mould-over-ejection',
      figures: { name: 'usual' },
    });
  });

  it('acetal and the vinyls are the two families that never share a barrel', () => {
    const families = POLYMERS.flatMap(({ symbol, barrelFamily }) =>
      barrelFamily ? [[symbol, barrelFamily]] : [],
    );
    expect(families).toEqual([
      ['POM', 'acetal'],
      ['PVC-U', 'halogen'],
      ['PVC-P', 'halogen'],
    ]);
  });

  it('needs drying for what is published as such, and not for olefins, polystyrene, acetal and vinyls', () => {
    expect(POLYMERS.filter(needsDrying).map(({ symbol }) => symbol)).toEqual(
      'ABS SAN PA6 PA66 PC PMMA PET PETG PBT TPU PLA'.split(' '),
    );
  });
});

describe('the stay in the barrel', () => {
  // Polyplastics, Molding technology for POM, ch. 2: 60 min at 200, 30 min at 210, 10 min at 230 deg C.
  it.each([
    [190, 60],
    [200, 60],
    [205, 60 / Math.SQRT2],
    [210, 30],
    [230, 10],
    [245, 10],
  ])('acetal at %d deg C bears %f min', (meltC, minutes) => {
    expect(residenceLimitMin(of('POM'), meltC)).toBeCloseTo(minutes, 9);
  });

  it('a limit without a temperature holds at every one', () => {
    expect(residenceLimitMin(of('PP'), 200)).toBe(10);
    expect(residenceLimitMin(of('PP'), 275)).toBe(10);
  });
});

describe('the melt’s power law', () => {
  it.each([
    // From the handbook points at 180, 190 and 200 deg C.
    [180, 0.37, 6790],
    [190, 0.41, 4890],
    [195, 0.41, Math.sqrt(4890 * 4350)],
    [200, 0.41, 4350],
  ])('PP at %d deg C', (meltC, exponent, consistencyPaSn) => {
    const point = flowAt(of('PP'), meltC);
    expect(point?.exponent).toBeCloseTo(exponent, 12);
    expect(point?.consistencyPaSn).toBeCloseTo(consistencyPaSn, 6);
  });

  it('carried to hotter melt, the viscosity at 1000 1/s goes on falling by the same share per degree', () => {
    const at = (meltC: number) =>
      viscosityPaS(flowAt(of('PP'), meltC) ?? { meltC, exponent: 1, consistencyPaSn: 0 }, 1000);
    expect(at(220) / at(200)).toBeCloseTo(at(200) / at(180), 9);
  });

  it('is not known for eight families, and says so', () => {
    expect(POLYMERS.filter((one) => flowAt(one, 230) === null).map(({ symbol }) => symbol)).toEqual(
      'POM PET PETG PBT PVC-P TPU TPE-S PLA'.split(' '),
    );
  });
});
