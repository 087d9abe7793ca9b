import { describe, expect, it } from 'vitest';
import { gaugeBar } from '../../../server/engineering/run/hold-steps.js';
import { shotEstimate } from '../../../server/engineering/run/shot-estimate.js';
import { type TrialGround, trialSteps } from '../../../server/engineering/run/trial-steps.js';

/** A 28 mm screw and the yard's sprue; the plate's figures are round on purpose. */
const GROUND: TrialGround = {
  mouldedMm3: 12_000,
  sprue: { lengthMm: 20, nozzleEndDiameterMm: 2.5, partingFaceDiameterMm: 3.5 },
  screwDiameterMm: 28,
  shotCm3: 60,
  clampWindowKn: { min: 121.3, max: 310.8 },
  clampNeededKn: 121.3,
  clampSettableKn: { min: 50, max: 500 },
  cavityPressureMpa: { min: 21, max: 48 },
  maxPressureMpa: 160,
  intensification: 10,
};

const named = (ground: TrialGround, name: string) => {
  const found = trialSteps(ground).steps.find((step) => step.name === name);
  if (found === undefined) throw new Error(`There is no step ${name}.`);
  return found.set;
};

/** The volume of a cone cut off at both ends, by slices: no formula of the service's. */
function slicedConeMm3(lengthMm: number, oneMm: number, otherMm: number): number {
  const slices = 100_000;
  let sum = 0;
  for (let i = 0; i < slices; i++) {
    const diameter = oneMm + ((otherMm - oneMm) * (i + 0.5)) / slices;
    sum += Math.PI * (diameter / 2) ** 2 * (lengthMm / slices);
  }
  return sum;
}

describe('the estimated shot', () => {
  it('is the drawn volume and the sprue, as a way of a 28 mm screw (615.752 mm2)', () => {
    const shot = shotEstimate(GROUND);
    expect(shot.sprueMm3).toBeCloseTo(slicedConeMm3(20, 2.5, 3.5), 4);
    // By hand: pi/12 x 20 x (6.25 + 8.75 + 12.25) = 142.681 mm3; 12142.681 / 615.752 = 19.720 mm.
    expect(shot.sprueMm3).toBeCloseTo(142.681, 3);
    expect(shot.screwMm).toBeCloseTo(19.72, 2);
    expect(shot.longestMm).toBeCloseTo(97.442, 3);
    expect(shot.cushionMm).toBe(5);
    expect([shot.isShortOfStroke, shot.isBeyondPress]).toEqual([false, false]);
  });

  it('says that a way under a quarter of the screw is metered unevenly: 7 mm of 28', () => {
    const of = (mouldedMm3: number) => shotEstimate({ ...GROUND, mouldedMm3 }).isShortOfStroke;
    // 7 mm x 615.752 mm2 = 4310.27 mm3, the sprue's 142.68 in it.
    expect(of(4160)).toBe(true);
    expect(of(4175)).toBe(false);
  });

  it('leaves what cushion the press has left, and says when it cannot give the shot', () => {
    const nearly = shotEstimate({ ...GROUND, mouldedMm3: 58_000 });
    // (60000 - 58142.68) / 615.752 = 3.016 mm
    expect(nearly.cushionMm).toBeCloseTo(3.016, 3);
    const over = shotEstimate({ ...GROUND, mouldedMm3: 60_000 });
    expect([over.isBeyondPress, over.cushionMm]).toEqual([true, 0]);
  });

  it('refuses a screw without a diameter', () => {
    expect(() => shotEstimate({ ...GROUND, screwDiameterMm: 0 })).toThrow(RangeError);
    expect(() => shotEstimate({ ...GROUND, screwDiameterMm: Number.NaN })).toThrow(RangeError);
  });
});

describe('the steps of a trial', () => {
  it('stand in their order, the clamp stepped up only at the end and only where needed', () => {
    const { steps } = trialSteps(GROUND);
    expect(steps.map(({ name }) => name)).toEqual([
      'close-gently',
      'short-shot-50',
      'short-shot-70',
      'short-shot-85',
      'short-shot-95',
      'full-shot',
      'hold-1',
      'hold-2',
      'hold-3',
      'flash-check',
      'part-release',
      'clamp-force-1',
      'clamp-force-2',
      'clamp-force-3',
    ]);
    expect(steps.filter(({ asNeeded }) => asNeeded).map(({ kind }) => kind)).toEqual([
      'clamp-force',
      'clamp-force',
      'clamp-force',
    ]);
  });

  it('come to ways of 9.86, 13.80, 16.76, 18.73 and 19.72 mm, the cushion added where it is drawn back', () => {
    const ways = ['short-shot-50', 'short-shot-70', 'short-shot-85', 'short-shot-95', 'full-shot'];
    const set = ways.map((name) => named(GROUND, name));
    expect(set.map(({ screwMm }) => screwMm?.toFixed(2))).toEqual([
      '9.86',
      '13.80',
      '16.76',
      '18.73',
      '19.72',
    ]);
    expect(set.map(({ meterMm }) => meterMm?.toFixed(2))).toEqual([
      '14.86',
      '18.80',
      '21.76',
      '23.73',
      '24.72',
    ]);
    expect(set.map(({ holdMpa }) => holdMpa)).toEqual([0, 0, 0, 0, 0]);
  });

  it('hold with 10.5, 21 and 34.5 MPa, read on the gauge through the intensification', () => {
    const holds = ['hold-1', 'hold-2', 'hold-3'].map((name) => named(GROUND, name));
    expect(holds.map(({ holdMpa }) => holdMpa)).toEqual([10.5, 21, 34.5]);
    // 10 : 1 and 10 bar to the MPa: the same numbers.
    expect(holds.map(({ holdGaugeBar }) => holdGaugeBar)).toEqual([10.5, 21, 34.5]);
    // 110 MPa at 11 : 1 is 10 MPa of oil, 100 bar.
    expect(gaugeBar(110, 11)).toBeCloseTo(100, 9);
  });

  it('say nothing of a gauge where the intensification is not known', () => {
    expect(named({ ...GROUND, intensification: null }, 'hold-2')).toMatchObject({
      holdMpa: 21,
      holdGaugeBar: null,
    });
  });

  it('never hold with more than the press has', () => {
    const weak = trialSteps({ ...GROUND, maxPressureMpa: 15 }).steps.filter(({ kind }) => kind === 'hold');
    expect(weak.map(({ set }) => set.holdMpa)).toEqual([10.5, 15]);
  });

  it('begin at the lower end of the clamp’s window, rounded up, and go up in thirds to its upper end', () => {
    expect(named(GROUND, 'short-shot-50').clampKn).toBe(122);
    // 310 - 122 = 188 in thirds.
    expect([1, 2, 3].map((n) => named(GROUND, `clamp-force-${n}`).clampKn)).toEqual([185, 247, 310]);
    expect(named(GROUND, 'close-gently').clampKn).toBeNull();
  });

  it('never leave the window or what the press can set, however they lie', () => {
    const windows = [
      { min: 60, max: 60.4 },
      { min: 60.2, max: 60.9 },
      { min: 20, max: 90 },
      { min: 430, max: 700 },
      { min: 99.5, max: 102.1 },
    ];
    for (const clampWindowKn of windows) {
      const least = Math.max(clampWindowKn.min, 50);
      const most = Math.min(clampWindowKn.max, 500);
      const forces = trialSteps({ ...GROUND, clampWindowKn }).steps.flatMap(({ set }) => set.clampKn ?? []);
      expect(forces.length).toBeGreaterThan(0);
      for (const force of forces) {
        expect(force).toBeGreaterThanOrEqual(least);
        expect(force).toBeLessThanOrEqual(most);
      }
      expect(forces).toEqual([...forces].sort((one, other) => one - other));
    }
  });

  it('take what is needed where the check gives no window, and say so; and nothing where nothing is known', () => {
    const needed = trialSteps({ ...GROUND, clampWindowKn: null });
    expect(needed.clampFrom).toBe('needed');
    expect(needed.steps.some(({ kind }) => kind === 'clamp-force')).toBe(false);
    expect(needed.steps[1]?.set.clampKn).toBe(122);
    expect(trialSteps({ ...GROUND, clampWindowKn: null, clampNeededKn: 650 }).steps[1]?.set.clampKn).toBe(
      500,
    );
    const unknown = trialSteps({ ...GROUND, clampWindowKn: null, clampNeededKn: null });
    expect([unknown.clampFrom, unknown.steps[1]?.set.clampKn]).toEqual(['unknown', null]);
  });
});
