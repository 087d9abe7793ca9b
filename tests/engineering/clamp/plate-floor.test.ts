import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bentFloor, type Floor } from '../../../server/engineering/clamp/plate-floor.js';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import type { Finding } from '../../../server/engineering/finding.js';
import { plateWith } from '../../../server/engineering/fit/plate-with.js';
import type { Ring } from '../../../server/engineering/geometry/point.js';
import { checkPlate, type PlateCheckInput } from '../../../server/engineering/plate-check.js';
import { findPolymer, type Polymer } from '../../../server/engineering/polymers/polymers.js';
import { PROJECT_FOLDER } from '../../../server/project-folder.js';
import { wordFinding } from '../../../server/words/index.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../../support/gullwing.js';

const PP = findPolymer('PP') as Polymer;

function disc(change: Partial<Floor> = {}): Floor {
  const floor = { shape: 'disc', spanMm: 40, thicknessMm: 4, packerMm: 0 } as const;
  return { ...floor, modulusMpa: 70_000, poisson: 0.3, ...change };
}

describe('a clamped floor', () => {
  // Mechanical Engineer's Data Handbook, 1.10.1, uniform load, clamped edge, Poisson's ratio 0.3.
  it('bends as the table of loaded flat plates has it: 0.171 p r^4 / E t^3 and 3 p r^2 / 4 t^2', () => {
    const { bendingMm, stressMpa } = bentFloor(disc(), 40);
    expect(bendingMm / ((40 * 20 ** 4) / (70_000 * 4 ** 3))).toBeCloseTo(0.171, 3);
    expect(stressMpa).toBeCloseTo((3 * 40 * 20 ** 2) / (4 * 4 ** 2), 9);
  });

  it.each([
    [40, 4],
    [40, 12],
    [6, 5],
  ])(
    'over %d mm and %d mm thick gives what a solution in small steps gives, shear and all',
    (spanMm, thicknessMm) => {
      const floor = disc({ spanMm, thicknessMm });
      const stepwise = mindlinDisc(floor, 48);
      expect(bentFloor(floor, 48).deflectionMm / stepwise.deflectionMm).toBeCloseTo(1, 3);
      expect(bentFloor(floor, 48).stressMpa / stepwise.stressMpa).toBeCloseTo(1, 2);
    },
  );

  it('a strip is a beam with both ends held: p b^4 / 384 D, 6 M / t^2 with M = p b^2 / 12', () => {
    const { bendingMm, stressMpa } = bentFloor(disc({ shape: 'strip' }), 40);
    const rigidity = (70_000 * 4 ** 3) / (12 * (1 - 0.3 ** 2));
    expect(bendingMm).toBeCloseTo((40 * 40 ** 4) / (384 * rigidity), 12);
    expect(stressMpa).toBeCloseTo((6 * ((40 * 40 ** 2) / 12)) / 4 ** 2, 9);
  });

  it('a strip bends at least as much as a disc of its width', () => {
    expect(bentFloor(disc({ shape: 'strip' }), 40).stressMpa).toBeGreaterThan(
      bentFloor(disc(), 40).stressMpa,
    );
  });

  it('shear is nothing in a thin floor and most of it in a thick one', () => {
    const share = (thicknessMm: number) => {
      const { shearMm, deflectionMm } = bentFloor(disc({ thicknessMm }), 40);
      return shearMm / deflectionMm;
    };
    expect(share(0.5)).toBeLessThan(0.01);
    expect(share(40)).toBeGreaterThan(0.5);
  });

  it('a packer as thick as the floor takes half the load', () => {
    const alone = bentFloor(disc(), 40);
    const backed = bentFloor(disc({ packerMm: 4 }), 40);
    expect(backed.stressMpa).toBeCloseTo(alone.stressMpa / 2, 9);
    expect(backed.deflectionMm).toBeCloseTo(alone.deflectionMm / 2, 9);
  });
});

/** The clamped disc in rings: slope from D (phi'' + phi'/r - phi/r^2) = -p r / 2, deflection summed from the rim. */
function mindlinDisc({ spanMm, thicknessMm, modulusMpa, poisson }: Floor, pressureMpa: number) {
  const rings = 2000;
  const radiusMm = spanMm / 2;
  const step = radiusMm / rings;
  const rigidity = (modulusMpa * thicknessMm ** 3) / (12 * (1 - poisson ** 2));
  const shearStiffness = ((5 / 6) * modulusMpa * thicknessMm) / (2 * (1 + poisson));
  const above = new Float64Array(rings + 1);
  const right = new Float64Array(rings + 1);
  for (let i = 1; i < rings; i++) {
    const r = i * step;
    const lower = 1 / step ** 2 - 1 / (2 * r * step);
    const middle = -2 / step ** 2 - 1 / r ** 2;
    const upper = 1 / step ** 2 + 1 / (2 * r * step);
    const pivot = middle - lower * (above[i - 1] as number);
    above[i] = upper / pivot;
    right[i] = ((-pressureMpa * r) / (2 * rigidity) - lower * (right[i - 1] as number)) / pivot;
  }
  const slope = new Float64Array(rings + 1);
  for (let i = rings - 1; i > 0; i--) {
    slope[i] = (right[i] as number) - (above[i] as number) * (slope[i + 1] as number);
  }
  let deflectionMm = 0;
  for (let i = 0; i < rings; i++) {
    const r = (i + 0.5) * step;
    const bending = ((slope[i] as number) + (slope[i + 1] as number)) / 2;
    deflectionMm += (bending + (pressureMpa * r) / (2 * shearStiffness)) * step;
  }
  const atRim =
    (3 * (slope[rings] as number) - 4 * (slope[rings - 1] as number) + (slope[rings - 2] as number)) /
    (2 * step);
  return { deflectionMm, stressMpa: (6 * rigidity * Math.abs(atRim)) / thicknessMm ** 2 };
}

function floorOf(name: string, changes: Partial<PlateCheckInput> = {}): Finding {
  const file = join(PROJECT_FOLDER, 'tests', 'samples', `${name}.dxf`);
  const drawing = measureDxf(readFileSync(file), { sprueDiameterMm: 3.5 });
  const ground = { bolster: demoBolster, press: demoPress, rules: demoRules };
  const { findings } = checkPlate({ drawing, plate: samplePlate, polymer: PP, ...ground, ...changes });
  const finding = findings.find(({ check }) => check === 'plate-floor');
  if (finding === undefined) throw new Error('no finding');
  return finding;
}

function round(x: number, y: number, radiusMm: number): Ring {
  return Array.from({ length: 96 }, (_, i) => {
    const angle = (2 * Math.PI * i) / 96;
    return { x: x + radiusMm * Math.cos(angle), y: y + radiusMm * Math.sin(angle) };
  });
}

const withOpening = (ring: Ring) => ({ ...demoBolster, faceOpenings: [ring] });

describe('floors over openings', () => {
  it('a face without openings under the melt backs the plate', () => {
    expect(floorOf('duplicates')).toMatchObject({ verdict: 'clear', situation: 'backed', figure: null });
  });

  it('a tapped hole under a cavity is an opening too', () => {
    const finding = floorOf('deep-cap');
    expect(finding).toMatchObject({ verdict: 'clear', situation: 'holds' });
    expect(finding.figures).toMatchObject({ kind: 'tapped-hole', shape: 'disc', spanMm: 6, floorMm: 2.5 });
    expect(finding.figure).toBeCloseTo((3 * 48 * 3 ** 2) / (4 * 2.5 ** 2), 9);
  });

  it('a round opening is a disc of its own diameter, a slot a strip of its width', () => {
    const bore = floorOf('tile-spacer-4up', { bolster: withOpening(round(0, 0, 40)) });
    expect(bore.figures).toMatchObject({ kind: 'opening', shape: 'disc' });
    expect(bore.figures.spanMm).toBeCloseTo(80, 1);
    const slot: Ring = [
      { x: -60, y: -8 },
      { x: 60, y: -8 },
      { x: 60, y: 8 },
      { x: -60, y: 8 },
    ];
    expect(floorOf('tile-spacer-4up', { bolster: withOpening(slot) }).figures).toMatchObject({
      shape: 'strip',
      spanMm: 16,
    });
  });

  it.each([
    ['yields', 'stop', 60],
    ['weak', 'caution', 34],
    ['holds', 'clear', 12],
  ])('over a bore the floor of tile-spacer-4up %s: %s at %d mm radius', (situation, verdict, radiusMm) => {
    const bolster = withOpening(round(0, 0, radiusMm));
    expect(floorOf('tile-spacer-4up', { bolster })).toMatchObject({ situation, verdict });
  });

  it('the thicker stock it offers holds, and a tenth less does not', () => {
    const bolster = withOpening(round(0, 0, 34));
    const { cures } = floorOf('tile-spacer-4up', { bolster });
    const [cure] = cures;
    expect(cure?.code).toBe('thicker-stock');
    const plate = plateWith(samplePlate, cure?.change ?? {});
    expect(floorOf('tile-spacer-4up', { bolster, plate }).verdict).toBe('clear');
    const thinner = { ...plate, thicknessMm: plate.thicknessMm - 0.1 };
    expect(floorOf('tile-spacer-4up', { bolster, plate: thinner }).verdict).toBe('caution');
  });

  it('a cut as deep as the plate leaves no floor', () => {
    const plate = { ...samplePlate, thicknessMm: 12, screw: { ...samplePlate.screw, lengthMm: 16 } };
    const finding = floorOf('deep-cap', { plate });
    expect(finding).toMatchObject({ verdict: 'stop', situation: 'no-floor', margin: -1.5 });
    expect(wordFinding(finding).summary).toMatch(/melt would run into the bolster/);
  });
});
