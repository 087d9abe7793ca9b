import { describe, expect, it } from 'vitest';
import { checkClampForce } from '../../../server/engineering/clamp/check-clamp-force.js';
import {
  areaHeldMm2,
  openingForceKn,
  openingForceOf,
} from '../../../server/engineering/clamp/opening-force.js';
import { findPolymer, POLYMERS, type Polymer } from '../../../server/engineering/polymers/polymers.js';
import { demoPress } from '../../support/gullwing.js';
import { handDrawing } from '../../support/hand-drawing.js';

const US_TON_KN = 8.896_44;
const US_TON_PER_IN2_MPA = 13.7895;
const IN2_MM2 = 645.16;

const PP = findPolymer('PP') as Polymer;

describe('opening force against published examples', () => {
  it('250 US ton press, 10 % lost to alignment, polyethylene at 2 ton/in2 (vulcanmold.com, Mold clamping pressure)', () => {
    const heldMm2 = areaHeldMm2(250 * US_TON_KN, 2 * US_TON_PER_IN2_MPA, 1 / 0.9);
    expect(heldMm2 / IN2_MM2).toBeCloseTo(112.5, 1);
    const heldKn = 220 * US_TON_KN;
    const pressureMpa = (heldKn * 1000) / (110 * IN2_MM2);
    expect(pressureMpa).toBeCloseTo(27.6, 1);
    expect(openingForceKn(110 * IN2_MM2, pressureMpa)).toBeCloseTo(heldKn, 6);
  });

  it('4 in2 at 2 to 5 US ton/in2 is 8 to 20 ton (Jake Tuczapski, Clamp tonnage, PDI tech tip)', () => {
    expect(openingForceKn(4 * IN2_MM2, 2 * US_TON_PER_IN2_MPA)).toBeCloseTo(71.2, 1);
    expect(openingForceKn(4 * IN2_MM2, 5 * US_TON_PER_IN2_MPA)).toBeCloseTo(177.9, 1);
  });

  it('and its 25 ton press flashed: the mean pressure was above 86 MPa', () => {
    expect(openingForceKn(4 * IN2_MM2, 86)).toBeLessThan(25 * US_TON_KN);
    expect(openingForceKn(4 * IN2_MM2, 86.3)).toBeGreaterThan(25 * US_TON_KN);
  });

  it('six 150 mm ABS discs, runner 15 %, 50 MPa in the cavity: 6097 kN (Boothroyd, Dewhurst and Knight, injection moulding; handbook value, from memory)', () => {
    const areaMm2 = 6 * 1.15 * Math.PI * 75 ** 2;
    expect(openingForceKn(areaMm2, 50)).toBeCloseTo(6097, 0);
  });
});

/** A plate of one square cavity whose required force at the top of the PP band, safety 1, is `kn`. */
function squareNeeding(kn: number) {
  const side = Math.sqrt((kn * 1000) / 48);
  return handDrawing({
    plate: { x: 0, y: 0, widthMm: side + 40, heightMm: side + 40 },
    cavities: [{ x: 0, y: 0, widthMm: side, heightMm: side, depthMm: 4 }],
  });
}

function findingFor(kn: number) {
  const drawing = squareNeeding(kn);
  return checkClampForce(drawing, openingForceOf(drawing, PP, 1), PP, demoPress);
}

describe('clamp force', () => {
  // PP is 21 to 48 MPa: the middle of the band, 34.5 MPa, passes 500 kN when the top reaches 695.65 kN.
  it.each([
    [499.9, 'clear', 'within'],
    [500.1, 'caution', 'top-of-band-over'],
    [695.5, 'caution', 'top-of-band-over'],
    [695.8, 'stop', 'over'],
  ])('%f kN at the top of the band on a 500 kN press is %s', (kn, verdict, situation) => {
    const finding = findingFor(kn);
    expect(finding).toMatchObject({ verdict, situation, limit: 500 });
    expect(finding.figure).toBeCloseTo(kn, 3);
    expect(finding.margin).toBeCloseTo(500 - kn, 3);
  });

  it('names the area that would clear it, and that area is just held', () => {
    const cure = findingFor(800).cures.find(({ code }) => code === 'less-area');
    expect((cure?.amount ?? 0) * 100).toBeCloseTo(((800 - 500) * 1000) / 48, 2);
  });

  it('keeps as many cavities as the press holds, the largest going first', () => {
    const cavities = [-90, -30, 30, 90].map((x, i) => ({
      ...{ x, y: 0, widthMm: 50, heightMm: i === 0 ? 140 : 60, depthMm: 4 },
    }));
    const drawing = handDrawing({ plate: { x: 0, y: 0, widthMm: 300, heightMm: 200 }, cavities });
    const finding = checkClampForce(drawing, openingForceOf(drawing, PP, 1), PP, demoPress);
    // 7000 + 3 x 3000 mm2; 500 kN at 48 MPa holds 10417 mm2.
    expect(finding.cures[0]).toMatchObject({ code: 'fewer-cavities', amount: 3 });
    expect(finding.cures[0]?.figures).toMatchObject({ cavities: 4, areaMm2: 9000 });
  });

  it.each([
    [1.49, 20, 'upper-half'],
    [1.51, 20, 'whole'],
    [1.51, 1.51 * 150 * 2 + 1, 'upper-half'],
  ])('a wall of %f mm in a cavity %f mm long takes %s of the band', (depthMm, widthMm, band) => {
    const drawing = handDrawing({
      plate: { x: 0, y: 0, widthMm: widthMm + 40, heightMm: 60 },
      cavities: [{ x: 0, y: 0, widthMm, heightMm: 1, depthMm }],
    });
    expect(openingForceOf(drawing, PP, 1.2).pressureBand).toBe(band);
  });
});

describe('the polymer table', () => {
  it('finds a polymer by its short name and by its ISO 1043 symbol, in any case', () => {
    expect(findPolymer('hdpe')?.iso1043).toBe('PE-HD');
    expect(findPolymer(' PE-HD ')?.symbol).toBe('HDPE');
    expect(findPolymer('XYZ')).toBeNull();
  });

  it.each(POLYMERS.map((polymer) => [polymer.symbol, polymer] as const))(
    '%s has a band inside what is published for thermoplastics at large (28 to 69 MPa, wider for easy flow)',
    (_symbol, { cavityPressureMpa: { min, max, source } }) => {
      expect(min).toBeGreaterThanOrEqual(14);
      expect(max).toBeGreaterThan(min);
      expect(max).toBeLessThanOrEqual(69);
      expect(source).not.toBe('');
    },
  );
});
