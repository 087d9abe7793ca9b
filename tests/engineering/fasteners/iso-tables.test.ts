import { describe, expect, it } from 'vitest';
import {
  COARSE_PITCH_MM,
  SCREW_SIZES,
  screwSize,
  threadDiameterMm,
  threadDiametersMm,
} from '../../../server/engineering/fit/fasteners/iso-261-threads.js';
import { CLEARANCE_HOLES } from '../../../server/engineering/fit/fasteners/iso-273-holes.js';
import {
  PROOF_LOAD_N,
  PROPERTY_CLASSES,
  SCREW_STRENGTH,
  STRESS_AREA_MM2,
} from '../../../server/engineering/fit/fasteners/iso-898-strength.js';
import { CAP_SCREWS } from '../../../server/engineering/fit/fasteners/iso-4762-screws.js';

describe('published tables', () => {
  it.each([
    ['M3', 0.5],
    ['M4', 0.7],
    ['M5', 0.8],
    ['M6', 1],
    ['M8', 1.25],
    ['M10', 1.5],
    ['M12', 1.75],
    ['M14', 2],
    ['M16', 2],
  ] as const)('ISO 261 coarse pitch of %s is %d mm', (size, pitchMm) => {
    expect(COARSE_PITCH_MM[size]).toBe(pitchMm);
  });

  it.each([
    ['M3', 3.2, 3.4, 3.6],
    ['M4', 4.3, 4.5, 4.8],
    ['M5', 5.3, 5.5, 5.8],
    ['M6', 6.4, 6.6, 7],
    ['M8', 8.4, 9, 10],
    ['M10', 10.5, 11, 12],
    ['M12', 13, 13.5, 14.5],
    ['M16', 17, 17.5, 18.5],
  ] as const)(
    'ISO 273 holes for %s are %d fine, %d medium, %d coarse',
    (size, fineMm, mediumMm, coarseMm) => {
      expect(CLEARANCE_HOLES[size]).toEqual({ fineMm, mediumMm, coarseMm });
    },
  );

  it.each([
    ['M3', 5.5, 3, 5, 30],
    ['M4', 7, 4, 6, 40],
    ['M5', 8.5, 5, 8, 50],
    ['M6', 10, 6, 10, 60],
    ['M8', 13, 8, 12, 80],
    ['M10', 16, 10, 16, 100],
    ['M12', 18, 12, 20, 120],
    ['M16', 24, 16, 25, 160],
  ] as const)(
    'ISO 4762 %s: head %d wide, %d high, %d to %d mm long',
    (size, wide, high, shortest, longest) => {
      const screw = CAP_SCREWS[size];
      expect([screw.headDiameterMm, screw.headHeightMm]).toEqual([wide, high]);
      expect([screw.lengthsMm[0], screw.lengthsMm.at(-1)]).toEqual([shortest, longest]);
      expect(screw.knurledHeadDiameterMm).toBeGreaterThan(wide);
      expect(screw.bearingDiameterMm).toBeLessThan(wide);
      expect(screw.counterbore.depthMm).toBeGreaterThan(high);
    },
  );
});

describe('ISO 898-1', () => {
  it.each(SCREW_SIZES.flatMap((size) => PROPERTY_CLASSES.map((grade) => [size, grade] as const)))(
    'proof load of %s %s is stress area times proof stress, to the rounding of the table',
    (size, grade) => {
      const computed = STRESS_AREA_MM2[size] * SCREW_STRENGTH[grade].proofMpa;
      expect(Math.abs(PROOF_LOAD_N[size][grade] / computed - 1)).toBeLessThan(0.006);
    },
  );

  it.each(SCREW_SIZES)('stress area of %s is that of the mean of pitch and root diameter', (size) => {
    const { pitch, root } = threadDiametersMm(size);
    const computed = (Math.PI / 4) * ((pitch + root) / 2) ** 2;
    expect(Math.abs(STRESS_AREA_MM2[size] / computed - 1)).toBeLessThan(0.005);
  });
});

describe('naming a thread', () => {
  it.each([
    ['M6', 6],
    ['m6', 6],
    [' M10 ', 10],
    ['M6x0.75', null],
    ['6', null],
    ['', null],
  ])('%j has the nominal diameter %j', (thread, diameterMm) => {
    expect(threadDiameterMm(thread)).toBe(diameterMm);
  });

  it('knows the sizes of its tables and no others', () => {
    expect(screwSize('m8')).toBe('M8');
    expect(screwSize('M7')).toBeNull();
  });
});
