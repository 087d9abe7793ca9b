import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstIncoherence } from '../../../server/engineering/polymers/coherence.js';
import {
  GRADE_BOUNDS,
  GRADE_FIGURES,
  type Grade,
  polymerOfGrade,
} from '../../../server/engineering/polymers/grade.js';
import { gradeFaults } from '../../../server/engineering/polymers/grade-faults.js';
import { needsDrying } from '../../../server/engineering/polymers/needs-drying.js';
import { findPolymer, POLYMERS, type Polymer } from '../../../server/engineering/polymers/polymers.js';
import { NO_FIGURES } from '../../support/grades.js';

const of = (symbol: string) => findPolymer(symbol) as Polymer;

function grade(
  change: Partial<Omit<Grade, 'figures'>> & { figures?: Partial<Grade['figures']> } = {},
): Grade {
  return {
    ...{ polymer: 'PP', sheetTitle: 'Ferry PP 12', sheetDate: '2020-03-01' },
    ...{ isPostConsumer: false, isHalogenated: false, fillerPercent: 0 },
    ...change,
    figures: { ...NO_FIGURES, ...change.figures },
  };
}

const SETTING = { meltMinC: 200, meltMaxC: 240, mouldMinC: 25, mouldMaxC: 50, ejectionC: 80 };

describe('the polymer of a grade', () => {
  it('is its family where the sheet says nothing', () => {
    expect(polymerOfGrade(of('PP'), grade())).toEqual(of('PP'));
  });

  it('takes its three sets from the sheet, which is named as their source', () => {
    const { temperatures } = polymerOfGrade(of('PP'), grade({ figures: SETTING }));
    expect(temperatures.sets).toEqual([
      { name: 'low', meltC: 200, mouldC: 25, ejectionC: 80 },
      { name: 'usual', meltC: 220, mouldC: 37.5, ejectionC: 80 },
      { name: 'high', meltC: 240, mouldC: 50, ejectionC: 80 },
    ]);
    expect(temperatures.setsOrigin).toEqual({
      source: 'data sheet: Ferry PP 12, 2020-03-01',
      basis: 'sourced',
    });
    expect(temperatures.mouldCeilingC.value).toBe(50);
  });

  it('washed recyclate is dried as somebody has said, and until then nobody knows', () => {
    const recyclate = { isPostConsumer: true };
    expect(polymerOfGrade(of('PP'), grade(recyclate)).drying).toBeNull();
    expect(needsDrying(polymerOfGrade(of('PP'), grade(recyclate)))).toBe(true);
    const told = polymerOfGrade(of('PP'), grade({ ...recyclate, figures: { dryingC: 60, dryingHours: 2 } }));
    expect(told.drying).toMatchObject({ needed: true, hours: { usual: 2 }, temperatureC: { usual: 60 } });
    const dry = polymerOfGrade(of('PP'), grade({ ...recyclate, figures: { dryingHours: 0 } }));
    expect(needsDrying(dry)).toBe(false);
  });

  it('a filler makes the shrinkage unknown until the sheet says it, and halves the shear it bears', () => {
    const filled = polymerOfGrade(of('PA66'), grade({ polymer: 'PA66', fillerPercent: 30 }));
    expect(filled.shrinkagePercent).toBeNull();
    expect(filled.shearRateMaxPerS.value).toBe(30_000);
    const told = grade({
      fillerPercent: 30,
      figures: { shrinkageMinPercent: 0.3, shrinkageMaxPercent: 0.9 },
    });
    expect(polymerOfGrade(of('PA66'), told).shrinkagePercent).toMatchObject({
      min: 0.3,
      max: 0.9,
      usual: 0.6,
    });
  });

  it('a halogenated flame retardant puts it into the family that never meets acetal', () => {
    expect(polymerOfGrade(of('ABS'), grade({ isHalogenated: true })).barrelFamily).toBe('halogen');
  });

  it('a heavier grade melts heavier in the same proportion', () => {
    const heavy = polymerOfGrade(of('PP'), grade({ figures: { densityGPerCm3: 0.905 * 1.2 } }));
    expect(heavy.meltDensityGPerCm3.usual).toBeCloseTo(0.745 * 1.2, 9);
  });
});

describe('what a grade cannot be', () => {
  it.each([
    ['PP', { ...SETTING, meltMaxC: 421 }, 'out-of-range', 'meltMaxC'],
    ['PP', { ...SETTING, ejectionC: null }, 'missing', 'ejectionC'],
    ['PP', { ...SETTING, mouldMaxC: 20 }, 'turned', 'mouldMaxC'],
    ['PP', { ...SETTING, mouldMaxC: 80 }, 'mould-too-hot', 'mouldMaxC'],
    ['PP', { ...SETTING, ejectionC: 150 }, 'still-flows', 'ejectionC'],
    ['PA66', { ...SETTING, ejectionC: 120 }, 'melt-too-cold', 'meltMinC'],
    ['POM', { ...SETTING, meltMaxC: 250 }, 'melt-too-hot', 'meltMaxC'],
    ['PP', { dryingHours: 2 }, 'missing', 'dryingC'],
    ['PP', { shrinkageMinPercent: 1 }, 'missing', 'shrinkageMaxPercent'],
  ] as const)('%s with %j: %s, at %s', (symbol, figures, code, figure) => {
    const faults = gradeFaults(of(symbol), grade({ figures }));
    expect(faults).toContainEqual(expect.objectContaining({ code, figure }));
  });

  it('no drying needs no heat', () => {
    expect(gradeFaults(of('PP'), grade({ figures: { dryingHours: 0 } }))).toEqual([]);
  });

  it('what has no fault is coherent and finite in every figure', () => {
    const seed = 12_577;
    const figures = fc.record(
      Object.fromEntries(
        GRADE_FIGURES.map((figure) => {
          const { least, most } = GRADE_BOUNDS[figure];
          return [figure, fc.option(fc.double({ min: least - 1, max: most + 1, noNaN: true }), { freq: 12 })];
        }),
      ),
    ) as unknown as fc.Arbitrary<Grade['figures']>;
    fc.assert(
      fc.property(fc.constantFrom(...POLYMERS), figures, (family, said) => {
        const one = grade({ polymer: family.symbol, figures: said });
        if (gradeFaults(family, one).length > 0) return;
        expect(firstIncoherence(polymerOfGrade(family, one))).toBeNull();
      }),
      { seed, numRuns: 3000 },
    );
  });
});
