import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import type { Cavity } from '../../../server/engineering/drawing/measured-drawing.js';
import type { Finding } from '../../../server/engineering/finding.js';
import type { Region, Ring } from '../../../server/engineering/geometry/point.js';
import { feedSystem } from '../../../server/engineering/melt/feed-system.js';
import { checkRelease, type ReleaseInput } from '../../../server/engineering/part/check-release.js';
import { coreForceN, pullOf, ringPressureMpa } from '../../../server/engineering/part/core-grip.js';
import { draftOf } from '../../../server/engineering/part/draft.js';
import { findPolymer, POLYMERS, type Polymer } from '../../../server/engineering/polymers/polymers.js';
import type { CutterGiven } from '../../../server/engineering/press-facts.js';
import { PROJECT_FOLDER } from '../../../server/project-folder.js';
import { wordFinding } from '../../../server/words/index.js';
import { demoBolster, samplePlate } from '../../support/gullwing.js';

const PP = findPolymer('PP') as Polymer;

function circle(radiusMm: number, isHole = false): Ring {
  const ring = Array.from({ length: 720 }, (_, i) => {
    const angle = (2 * Math.PI * i) / 720;
    return { x: radiusMm * Math.cos(angle), y: radiusMm * Math.sin(angle) };
  });
  return isHole ? ring.reverse() : ring;
}

function ring(coreRadiusMm: number, wallMm: number, depthMm: number): Pick<Cavity, 'levels' | 'region'> {
  const region: Region = [circle(coreRadiusMm + wallMm), circle(coreRadiusMm, true)];
  return { region, levels: [{ depthMm, region, areaMm2: 0 }] };
}

describe('a ring shrunk onto a core', () => {
  it('a thin one presses with s t / a, an endless sheet with s / (1 + v)', () => {
    expect(ringPressureMpa(4, 100, 101)).toBeCloseTo((4 * 1) / 100, 3);
    expect(ringPressureMpa(4, 1, 1e6)).toBeCloseTo(4 / 1.4, 9);
  });

  it.each([
    [10, 12],
    [10, 20],
    [3, 30],
  ])('of %d to %d mm presses as a solution in small steps gives it', (innerMm, outerMm) => {
    // The ring's rim is held 1 % wide; outside it is free. Plane stress, modulus 400 MPa: s = 4 MPa.
    expect(ringPressureMpa(4, innerMm, outerMm) / heldRingMpa(innerMm, outerMm, 400, 0.4, 0.01)).toBeCloseTo(
      1,
      3,
    );
  });

  // Shen, Chen and Jiang, Calculation of ejection force of hollow, thin walled, and injection moulded cones (1999):
  // the force is proportional to thickness and length and has little to do with the radius.
  it('takes force in proportion to its height and thickness, hardly by its radius', () => {
    const force = (radiusMm: number, wallMm: number, depthMm: number) =>
      coreForceN(ring(radiusMm, wallMm, depthMm), 4);
    expect(force(20, 1, 24) / force(20, 1, 12)).toBeCloseTo(2, 6);
    expect(force(60, 2, 12) / force(60, 1, 12)).toBeCloseTo(2, 1);
    expect(force(40, 1, 12) / force(20, 1, 12)).toBeCloseTo(1, 1);
    expect(force(60, 1, 12)).toBeCloseTo(2 * Math.PI * 4 * 1 * 12, -1);
  });

  it('a step in the floor is a core of its own height', () => {
    const [outer, core] = [circle(30), circle(10, true)];
    const whole = ring(10, 20, 5);
    const stepped = {
      region: [outer],
      levels: [
        { depthMm: 3, region: [circle(10)], areaMm2: 0 },
        { depthMm: 5, region: [outer, core], areaMm2: 0 },
      ],
    };
    expect(coreForceN(stepped, 4) / coreForceN(whole, 4)).toBeCloseTo(2 / 5, 3);
  });

  it('a plain slab holds on to nothing', () => {
    expect(
      coreForceN({ region: [circle(20)], levels: [{ depthMm: 5, region: [circle(20)], areaMm2: 0 }] }, 4),
    ).toBe(0);
  });
});

/** u'' + u'/r - u/r^2 = 0 in steps: u held at the core, no radial stress outside; gives the pressure at the core. */
function heldRingMpa(innerMm: number, outerMm: number, modulusMpa: number, poisson: number, strain: number) {
  const steps = 4000;
  const step = (outerMm - innerMm) / steps;
  const solve = (slopeAtCore: number) => {
    let [u, v] = [strain * innerMm, slopeAtCore];
    const slope = (r: number, here: number, steep: number) => here / r ** 2 - steep / r;
    for (let i = 0; i < steps; i++) {
      const r = innerMm + i * step;
      const [k1u, k1v] = [v, slope(r, u, v)];
      const [k2u, k2v] = [
        v + (step / 2) * k1v,
        slope(r + step / 2, u + (step / 2) * k1u, v + (step / 2) * k1v),
      ];
      u += step * k2u;
      v += step * k2v;
    }
    return v + (poisson * u) / outerMm;
  };
  // The outer condition is linear in the slope: two shots find it.
  const [atNone, atOne] = [solve(0), solve(1)];
  const slopeAtCore = -atNone / (atOne - atNone);
  return (-modulusMpa / (1 - poisson ** 2)) * (slopeAtCore + poisson * strain);
}

describe('what pulls a part onto metal', () => {
  it.each(POLYMERS.map((polymer) => [polymer.symbol, polymer] as const))(
    '%s is finite at each of its sets, and grips hardest at the coldest',
    (_, polymer) => {
      const pulls = polymer.temperatures.sets.map((set) => pullOf(polymer, set));
      for (const { contraction, heldMpa } of pulls) {
        expect(contraction).toBeGreaterThan(0);
        expect(contraction).toBeLessThan(0.03);
        expect(Number.isFinite(heldMpa)).toBe(true);
      }
      const held = pulls.map(({ heldMpa }) => heldMpa);
      expect(Math.max(...held)).toBe(held[0]);
    },
  );
});

const cutter = (change: Partial<CutterGiven>): CutterGiven => ({
  ...{ feature: null, form: null, diameterMm: null, taperDeg: null },
  ...change,
});

describe('draft', () => {
  it.each([
    [null, [], 1, 'usual'],
    [0.5, [cutter({ form: 'flat' })], 0.5, 'given'],
    [null, [cutter({ form: 'flat' })], 0, 'cutter'],
    [null, [cutter({ form: 'ball' })], 0, 'cutter'],
    [null, [cutter({ form: 'tapered', taperDeg: 3 })], 3, 'cutter'],
    [null, [cutter({ form: 'tapered' })], 1, 'cutter'],
    [
      null,
      [cutter({ form: 'flat' }), cutter({ feature: 'cavity', form: 'tapered', taperDeg: 2 })],
      2,
      'cutter',
    ],
    [null, [cutter({ feature: 'runner', form: 'flat' })], 1, 'usual'],
  ] as const)('given %s and cutters %j is %d deg, %s', (draftDeg, cutters, deg, from) => {
    expect(draftOf({ draftDeg, cutters })).toEqual({ deg, from });
  });
});

function release(name: string, change: Partial<Omit<ReleaseInput, 'drawing'>> = {}): Finding {
  const file = join(PROJECT_FOLDER, 'tests', 'samples', `${name}.dxf`);
  const drawing = measureDxf(readFileSync(file), { sprueDiameterMm: 3.5 });
  const given = { drawing, plate: samplePlate, bolster: demoBolster, polymer: PP, feed: feedSystem(drawing) };
  return checkRelease({ ...given, ...change });
}

describe('release', () => {
  it('a slab on the usual tapered cutter lets go', () => {
    expect(release('tile-spacer-4up')).toMatchObject({
      verdict: 'clear',
      situation: 'lets-go',
      figure: 1,
      limit: 0.5,
    });
  });

  it('a cap shrinks onto its core harder than two hands pull', () => {
    const finding = release('deep-cap');
    expect(finding).toMatchObject({ verdict: 'caution', situation: 'grips-core', limit: 150, unit: 'N' });
    expect(finding.figure).toBeGreaterThan(150);
    expect(wordFinding(finding).advice).toMatch(/wedge only with the press off, isolated and locked/);
  });

  it('the draft it offers lets it go', () => {
    const cure = release('deep-cap').cures.find(({ code }) => code === 'more-draft');
    expect(cure).toBeDefined();
    const plate = { ...samplePlate, draftDeg: cure?.amount ?? null };
    expect(release('deep-cap', { plate })).toMatchObject({ verdict: 'clear', situation: 'lets-go' });
  });

  it('at a slope as steep as the friction the part comes off by itself', () => {
    const draftDeg = (Math.atan(PP.frictionOnMetal.usual) * 180) / Math.PI + 0.01;
    expect(release('deep-cap', { plate: { ...samplePlate, draftDeg } }).figures.stripN).toBe(0);
  });

  it('gates that tear first are told: then the part is lifted, not its runner', () => {
    const finding = release('pot-riser-blocks');
    expect(finding.verdict).toBe('clear');
    expect(finding.figures.stripN).toBeGreaterThan(Number(finding.figures.gatesLiftN));
    expect(wordFinding(finding).note).toMatch(/lift the part itself/);
  });

  it('walls of 4 mm from a flat cutter are too steep, those of 2 mm are not', () => {
    const plate = { ...samplePlate, cutters: [cutter({ form: 'flat' })] };
    expect(release('tile-spacer-4up', { plate })).toMatchObject({
      verdict: 'caution',
      situation: 'little-draft',
      margin: -0.5,
    });
    expect(release('tiny-token', { plate }).verdict).toBe('clear');
  });

  it('copolyester wants two degrees (Dawn Group, Copolyester PETG/PCTG processing guide)', () => {
    const polymer = findPolymer('PETG') as Polymer;
    const finding = release('tile-spacer-4up', { polymer });
    expect(finding).toMatchObject({ situation: 'little-draft', limit: 2 });
    const plate = { ...samplePlate, draftDeg: 2 };
    expect(release('tile-spacer-4up', { polymer, plate }).verdict).toBe('clear');
  });

  it.each([
    [{ lengthMm: 40, nozzleEndDiameterMm: 3, partingFaceDiameterMm: 3.5 }, 'sprue-clings'],
    [{ lengthMm: 5, nozzleEndDiameterMm: 3, partingFaceDiameterMm: 3.5 }, 'little-to-hold'],
  ])('a sprue of %j: %s', (sprue, situation) => {
    const finding = release('tile-spacer-4up', { bolster: { sprue } });
    expect(finding).toMatchObject({ verdict: 'caution', situation });
    expect(wordFinding(finding).summary).not.toMatch(/undefined|NaN/);
  });

  it('is the same for a plate that is turned and moved', () => {
    const [one, other] = [release('ruler-clip-rotated'), release('ruler-clip-offset')];
    expect(one.figures.stripN).toBeCloseTo(Number(other.figures.stripN), 0);
    expect(one.situation).toBe(other.situation);
  });
});
