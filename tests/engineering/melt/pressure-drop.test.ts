import { describe, expect, it } from 'vitest';
import {
  gateShearPerS,
  roundDropMpa,
  sideWallFactor,
  slitDropMpa,
} from '../../../server/engineering/melt/pressure-drop.js';

const newton = (paS: number) => ({ exponent: 1, consistencyPaSn: paS });

describe('pressure along a round channel', () => {
  /** Imperial College London, ME4 Polymer Processing Technology, problem set 3, problem 3.1. */
  it('a conical sprue of 3 to 6 mm over 60 mm as in a published problem', () => {
    const law = { exponent: 0.3, consistencyPaSn: 16_000 };
    // At the narrow end the gradient of a plain channel of that diameter: 290 MPa/m.
    expect(roundDropMpa(law, 10, 1, 3) * 1000).toBeCloseTo(290, -1);
    expect(roundDropMpa(law, 10, 60, 3, 6)).toBeCloseTo(8.96, 2);
    expect(roundDropMpa(law, 10, 60, 6, 3)).toBeCloseTo(8.96, 2);
  });

  it('is the law of Hagen and Poiseuille for a Newtonian melt', () => {
    // 8 eta L Q / (pi R^4), in SI.
    const expected = (8 * 250 * 0.06 * 15e-6) / (Math.PI * 0.0025 ** 4) / 1e6;
    expect(roundDropMpa(newton(250), 15, 60, 5)).toBeCloseTo(expected, 6);
  });

  it('agrees with a velocity profile integrated step by step', () => {
    const law = { exponent: 0.41, consistencyPaSn: 4350 };
    const radiusM = 0.0025;
    const drop = roundDropMpa(law, 15, 60, 5) * 1e6;
    // Wall stress from the balance of forces; shear rate from the law; velocity summed inwards from the wall.
    const rings = 4000;
    let velocity = 0;
    let flow = 0;
    for (let i = rings; i > 0; i--) {
      const r = ((i - 0.5) / rings) * radiusM;
      const stress = (drop * r) / (2 * 0.06);
      velocity += (stress / law.consistencyPaSn) ** (1 / law.exponent) * (radiusM / rings);
      flow += velocity * 2 * Math.PI * r * (radiusM / rings);
    }
    expect((flow * 1e6) / 15).toBeCloseTo(1, 2);
  });
});

describe('pressure along a rectangular channel', () => {
  it('agrees with the velocity of a Newtonian melt relaxed over the section', () => {
    // Poisson's equation on 4 x 2 mm with no slip, by red-black relaxation: nothing of the series is used.
    const [columns, rows] = [80, 40];
    const field = Array.from({ length: rows + 2 }, () => new Float64Array(columns + 2));
    const cell = 1 / 20;
    for (let sweep = 0; sweep < 3000; sweep++) {
      for (let colour = 0; colour < 2; colour++) {
        for (let r = 1; r <= rows; r++) {
          const [above, row, below] = [field[r - 1], field[r], field[r + 1]] as [
            Float64Array,
            Float64Array,
            Float64Array,
          ];
          for (let c = 1 + ((r + colour) % 2); c <= columns; c += 2) {
            const left = c === 1 ? -(row[1] as number) : (row[c - 1] as number);
            const right = c === columns ? -(row[columns] as number) : (row[c + 1] as number);
            const up = r === 1 ? -(row[c] as number) : (above[c] as number);
            const down = r === rows ? -(row[c] as number) : (below[c] as number);
            row[c] = (left + right + up + down + cell * cell) / 4;
          }
        }
      }
    }
    let flow = 0;
    for (let r = 1; r <= rows; r++)
      for (let c = 1; c <= columns; c++) flow += (field[r]?.[c] ?? 0) * cell * cell;
    // Between wide plates the same gradient gives w h^3 / 12 mm4 over viscosity.
    expect(flow / ((4 * 2 ** 3) / 12)).toBeCloseTo(sideWallFactor(2), 2);
  });

  it.each([
    [1, 0.42173],
    [2, 0.68605],
    [5, 0.87395],
    [20, 0.96849],
  ])('side walls of a section %s times as wide as deep leave %s', (ratio, factor) => {
    expect(sideWallFactor(ratio)).toBeCloseTo(factor, 4);
  });

  it('lets the same through whichever side is called its width', () => {
    const law = { exponent: 0.41, consistencyPaSn: 4350 };
    expect(slitDropMpa(law, 5, 50, 4, 2)).toBe(slitDropMpa(law, 5, 50, 2, 4));
  });

  it('PP at 200 deg C in a wide strip: wall stress from the shear rate, force from the stress', () => {
    const law = { exponent: 0.41, consistencyPaSn: 4350 };
    // 80 mm long, 4000 mm wide, 2 mm deep, so that the sides count for nothing; flow scaled with the width.
    const shear = ((2 * 0.41 + 1) / (3 * 0.41)) * ((6 * 2000) / (4000 * 2 ** 2)) * 1000;
    const stressPa = law.consistencyPaSn * shear ** law.exponent;
    expect(slitDropMpa(law, 2000, 80, 4000, 2)).toBeCloseTo((2 * stressPa * 80) / 2 / 1e6, 1);
  });
});

/** The form is Routsis Training's, Calculating apparent shear rate; figures worked by hand. */
it('an edge gate of 3 x 1 mm at 10 cm3/s shears at 20 000 1/s', () => {
  expect(gateShearPerS(10, 3, 1)).toBeCloseTo(20_000, 6);
});
