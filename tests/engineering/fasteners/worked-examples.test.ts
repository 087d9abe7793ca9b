import { describe, expect, it } from 'vitest';
import { CLEARANCE_HOLES } from '../../../server/engineering/fit/fasteners/iso-273-holes.js';
import {
  SCREW_STRENGTH,
  STRESS_AREA_MM2,
} from '../../../server/engineering/fit/fasteners/iso-898-strength.js';
import {
  outlastingEngagementMm,
  tappedShearAreaMm2PerMm,
} from '../../../server/engineering/fit/fasteners/thread-strength.js';
import {
  headPressureMpa,
  torqueNm,
  usualPreloadN,
} from '../../../server/engineering/fit/fasteners/tightening.js';
import { registerPlate } from '../../../server/engineering/fit/register-plate.js';
import { shearStrengthMpa } from '../../../server/engineering/materials/alloys.js';
import { demoBolster, demoRules } from '../../support/gullwing.js';
import { boltsAt, madeDrawing } from '../fit/made-drawing.js';

describe('torque and preload', () => {
  it('M12 8.8 at 70 % of its proof stress: 34.2 kN, 82 N m (aionlinecalculator.com, bolt torque)', () => {
    const preloadN = 0.7 * SCREW_STRENGTH['8.8'].proofMpa * STRESS_AREA_MM2.M12;
    expect(preloadN / 1000).toBeCloseTo(34.2, 1);
    expect(torqueNm(12, preloadN)).toBeCloseTo(82, 0);
    expect(torqueNm(12, 45_600, 0.15)).toBeCloseTo(82, 0);
  });

  it('M6 8.8 at 75 % of its proof load: 8.70 kN, 10.4 N m dry, 7.8 oiled (computed from ISO 898-1)', () => {
    expect(usualPreloadN('M6', '8.8')).toBeCloseTo(8700, 6);
    expect(torqueNm(6, 8700)).toBeCloseTo(10.4, 1);
    expect(torqueNm(6, 8700, 0.15)).toBeCloseTo(7.8, 1);
  });

  it.each([
    ['M5', 230],
    ['M6', 249],
    ['M8', 285],
    ['M10', 282],
    ['M12', 407],
    ['M16', 377],
  ] as const)(
    'a bare %s head presses %d MPa at that preload over a medium hole (computed, ISO 4762 and ISO 273)',
    (size, mpa) => {
      const pressure = headPressureMpa(size, CLEARANCE_HOLES[size].mediumMm, usualPreloadN(size, '8.8'));
      expect(Math.abs(pressure - mpa)).toBeLessThan(1);
    },
  );
});

describe('thread in aluminium', () => {
  it('M6 8.8 in 6082-T651: 12.19 mm2 per mm, 7.45 mm to outlast the screw (computed, ASME B1.1 form)', () => {
    expect(tappedShearAreaMm2PerMm('M6')).toBeCloseTo(12.19, 2);
    expect(outlastingEngagementMm('M6', '8.8', shearStrengthMpa('EN AW-6082-T6'))).toBeCloseTo(7.45, 2);
  });

  it.each([
    ['M3', 1.37],
    ['M4', 1.28],
    ['M8', 1.23],
    ['M12', 1.22],
    ['M16', 1.25],
  ] as const)('%s 8.8 wants %d diameters (computed by the same form)', (size, times) => {
    const engagementMm = outlastingEngagementMm(size, '8.8', shearStrengthMpa('EN AW-6082-T6')) ?? 0;
    expect(Math.abs(engagementMm / Number(size.slice(1)) - times)).toBeLessThan(0.006);
  });
});

describe('fixed-fastener rule for M6 on a bolster made to 0.1 mm (H = F + T1 + T2, ASME Y14.5 appendix B)', () => {
  /** Coordinate tolerances of plate and bolster, hole, and whether a hole at the far corner of both still fits. */
  it.each([
    ['CNC to 0.1', 0.1, 6.6, true],
    ['CNC to 0.1', 0.1, 6.4, false],
    ['ISO 2768-m to 0.3', 0.3, 7, false],
    ['ISO 2768-f to 0.15', 0.15, 6.6, false],
    ['ISO 2768-f to 0.15', 0.15, 7, true],
  ])('plate %s: %d mm each way, hole of %d mm: fits %s', (_, plateMm, holeMm, fits) => {
    const rules = { ...demoRules, plateHolePositionMm: Math.SQRT2 * plateMm };
    const bolster = {
      ...demoBolster,
      holes: demoBolster.holes.map((hole) => ({ ...hole, positionMm: Math.SQRT2 * 0.1 })),
    };
    const drawing = madeDrawing({ bolts: boltsAt(holeMm, [-80, -60], [80, -60], [80, 60], [-80, 60]) });
    expect(registerPlate(drawing, bolster, 6, rules).holesFit).toBe(fits);
  });
});
