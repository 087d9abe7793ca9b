import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measureDxf } from '../../server/engineering/drawing/measure-drawing.js';
import type { MeasuredDrawing } from '../../server/engineering/drawing/measured-drawing.js';
import { CHECKS, type CheckName, type Finding } from '../../server/engineering/finding.js';
import { checkPlate, type PlateCheckInput, worstOf } from '../../server/engineering/plate-check.js';
import { findPolymer, POLYMERS, type Polymer } from '../../server/engineering/polymers/polymers.js';
import { ALLOYS, CUTTER_FORMS, MILLED_FEATURES } from '../../server/engineering/press-facts.js';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { wordFinding } from '../../server/words/index.js';
import { demoBolster, demoPress, demoRules, keyedBolster, samplePlate } from '../support/gullwing.js';

const FOLDER = join(PROJECT_FOLDER, 'tests', 'samples');

const { files } = JSON.parse(readFileSync(join(FOLDER, 'expected.json'), 'utf8')) as {
  files: { [name: string]: { readable: boolean } };
};

const drawings = new Map<string, MeasuredDrawing>(
  readdirSync(FOLDER)
    .filter((name) => files[name]?.readable)
    .map((name) => [name, measureDxf(readFileSync(join(FOLDER, name)), { sprueDiameterMm: 3.5 })]),
);

const PP = findPolymer('PP') as Polymer;

function check(name: string, changes: Partial<PlateCheckInput> = {}) {
  const drawing = drawings.get(`${name}.dxf`);
  if (drawing === undefined) throw new Error(`no sample ${name}`);
  const ground = { bolster: demoBolster, press: demoPress, rules: demoRules };
  return checkPlate({ drawing, plate: samplePlate, polymer: PP, ...ground, ...changes });
}

function findingOf(name: string, wanted: CheckName, changes: Partial<PlateCheckInput> = {}): Finding {
  const finding = check(name, changes).findings.find((one) => one.check === wanted);
  if (finding === undefined) throw new Error(`${name} has no finding ${wanted}`);
  return finding;
}

const CLAMP_CHECKS = ['clamp-force', 'parting-line', 'land-pressure'] as const;

describe('a plate check', () => {
  it('has every check once, in report order, and the worst verdict of them', () => {
    for (const name of drawings.keys()) {
      const { findings, verdict } = check(name.replace('.dxf', ''));
      expect(findings.map((finding) => finding.check)).toEqual([...CHECKS]);
      expect(verdict).toBe(worstOf(findings));
    }
  });

  it.each([
    [['clear', 'caution'], 'caution'],
    [['caution', 'unknown'], 'unknown'],
    [['unknown', 'stop', 'clear'], 'stop'],
    [[], 'clear'],
  ] as const)('the worst of %j is %s', (verdicts, worst) => {
    expect(worstOf(verdicts.map((verdict) => ({ verdict })))).toBe(worst);
  });

  it.each([
    'tile-spacer-4up',
    'seed-label-2up',
    'hive-spacer-inch',
    'board-counter-8up',
    'drawer-pull',
    'bike-shim-r12',
    'pot-riser-blocks',
    'ruler-clip-rotated',
    'ruler-clip-offset',
    'no-units-decimal-comma-layers',
    'duplicates',
    'tiny-token',
    'loop-runner',
    'layers-off-and-notes',
  ])('%s, an ordinary good plate, fits and is clear in every clamp check', (name) => {
    const { registration, findings } = check(name);
    expect(registration.fits).toBe(true);
    const clamp = findings.filter((one) => (CLAMP_CHECKS as readonly string[]).includes(one.check));
    expect(clamp.map(({ check, verdict }) => [check, verdict])).toEqual(
      CLAMP_CHECKS.map((one) => [one, 'clear']),
    );
  });

  it.each([
    ...['tile-spacer-4up', 'seed-label-2up', 'hive-spacer-inch', 'board-counter-8up', 'bike-shim-r12'],
    ...['pot-riser-blocks', 'ruler-clip-rotated', 'ruler-clip-offset', 'no-units-decimal-comma-layers'],
    ...['duplicates', 'loop-runner'],
  ])('%s comes out clear in the whole of its check', (name) => {
    const { verdict, findings } = check(name);
    expect(findings.filter((finding) => finding.verdict !== 'clear')).toEqual([]);
    expect(verdict).toBe('clear');
  });

  /** Good drawings with a shot so small that this press's screw hardly moves for it, or without a vent. */
  it.each([
    ['tiny-token', ['shot-volume', 'residence']],
    ['layers-off-and-notes', ['shot-volume', 'residence']],
    ['no-vent', ['shot-volume', 'vents']],
  ])('%s is cautioned for %j and nothing else', (name, cautions) => {
    const { findings } = check(name);
    const notClear = findings.filter((finding) => finding.verdict !== 'clear');
    expect(notClear.map((finding) => [finding.check, finding.verdict])).toEqual(
      cautions.map((one) => [one, 'caution']),
    );
  });

  it.each([
    ['bolt-off-grid', 'bolt-pattern', 'stop'],
    ['too-much-area', 'clamp-force', 'stop'],
    ['too-much-area', 'parting-line', 'stop'],
    ['too-much-area', 'land-pressure', 'stop'],
    ['bolt-through-cavity', 'walls', 'stop'],
    ['plate-too-wide', 'face', 'stop'],
    ['feed-off-centre', 'feed-on-sprue', 'stop'],
    ['thin-wall-to-edge', 'walls', 'caution'],
    ['unequal-gates', 'gate-shear', 'caution'],
    ['off-centre-cavity', 'parting-line', 'caution'],
    ['plant-tag-end-fed', 'parting-line', 'caution'],
    ['head-sinks', 'walls', 'caution'],
  ] as const)('%s shows what is wrong with it in %s: %s', (name, wanted, verdict) => {
    expect(findingOf(name, wanted)).toMatchObject({ verdict });
  });

  it('a drawing seen from the back stops on the keyed bolster and says that its mirror image fits', () => {
    const { verdict, registration } = check('mirrored-view', { bolster: keyedBolster });
    expect(verdict).toBe('stop');
    expect(registration.mirroredFits).toBe(true);
  });

  it('a plate that does not fit is judged where it comes nearest, and says so', () => {
    expect(findingOf('bolt-off-grid', 'parting-line').figures.placed).toBe('best-motion');
    expect(findingOf('tile-spacer-4up', 'parting-line').figures.placed).toBe('fits');
  });

  it('a plate thinner than the minimum daylight stops, and the packer it offers clears it', () => {
    const plate = {
      ...samplePlate,
      thicknessMm: 10,
      screw: { ...samplePlate.screw, lengthMm: 16, headSinkDepthMm: 7 },
    };
    const finding = findingOf('tile-spacer-4up', 'daylight', { plate });
    expect(finding).toMatchObject({ verdict: 'stop', figure: 10, margin: -2 });
    const change = finding.cures.find((cure) => cure.change?.packerThicknessMm !== undefined)?.change;
    expect(change).toBeDefined();
    const { screwLengthMm, packerThicknessMm = 0 } = change ?? {};
    const screw = { ...plate.screw, lengthMm: screwLengthMm ?? plate.screw.lengthMm };
    const mended = { ...plate, packerThicknessMm, screw };
    expect(findingOf('tile-spacer-4up', 'daylight', { plate: mended }).verdict).toBe('clear');
  });
});

describe('whatever the plate', () => {
  const numbers = fc.double({ min: 0.5, max: 200, noNaN: true });
  const cutter = fc.record({
    feature: fc.constantFrom(null, ...MILLED_FEATURES),
    form: fc.constantFrom(null, ...CUTTER_FORMS),
    diameterMm: fc.constantFrom(null, 0.1, 3, 50),
    taperDeg: fc.constantFrom(null, 0.1, 30),
  });
  const cutterLists = fc.array(cutter, { maxLength: 3 });
  const screwSizes = ['M3', 'M4', 'M5', 'M6', 'M8', 'M10', 'M12', 'M16'];

  it('no figure of any finding is infinite or not a number, and margins agree with verdicts', () => {
    const seed = 68_241;
    fc.assert(
      fc.property(
        fc.constantFrom(...drawings.keys()),
        fc.constantFrom(...POLYMERS),
        fc.constantFrom(...ALLOYS),
        fc.constantFrom(...screwSizes),
        fc.record({
          thicknessMm: numbers,
          facingMm: fc.constantFrom(0, 5, 30),
          packerMm: fc.constantFrom(0, 4),
          draftDeg: fc.constantFrom(null, 0, 1.5, 30),
          cutters: cutterLists,
        }),
        fc.record({ lengthMm: numbers, sinkMm: fc.option(fc.double({ min: 0, max: 60, noNaN: true })) }),
        fc.record({ minKn: fc.constantFrom(1, 50, 400), maxKn: fc.constantFrom(60, 500, 5000) }),
        (name, polymer, alloy, size, stack, { lengthMm, sinkMm }, { minKn, maxKn }) => {
          const plate = {
            ...{ thicknessMm: stack.thicknessMm, alloy, partHeightMm: null },
            ...{ facingThicknessMm: stack.facingMm, packerThicknessMm: stack.packerMm },
            ...{ draftDeg: stack.draftDeg, cutters: stack.cutters, screwGroups: [] },
            screw: { size, lengthMm, headSinkDepthMm: sinkMm, headSinkDiameterMm: null },
          };
          const press = { ...demoPress, clamp: { ...demoPress.clamp, minKn: Math.min(minKn, maxKn), maxKn } };
          const { findings } = check(name.replace('.dxf', ''), { plate, polymer, press });
          for (const finding of findings) expectSound(finding);
        },
      ),
      { seed, numRuns: 300 },
    );
  });
});

const THREADS = ['M4', 'M6', 'm6', 'M8', 'M6x0.75', '1/4-20 UNC', ''];

describe('whatever the bolster', () => {
  const ordinary = Object.values(demoBolster.holes);
  const holes = fc.array(
    fc.record({
      at: fc.record({ x: fc.integer({ min: -100, max: 100 }), y: fc.integer({ min: -80, max: 80 }) }),
      thread: fc.constantFrom(...THREADS),
      depthMm: fc.constantFrom(0, 4, 15),
      positionMm: fc.constantFrom(0, 0.05, 3),
    }),
    { maxLength: 12 },
  );
  const openings = fc.constantFrom(
    [],
    [
      [
        { x: -20, y: -20 },
        { x: 20, y: -20 },
        { x: 20, y: 20 },
      ],
    ],
  );

  it('a check gives findings that can be said, and never throws: no holes, other threads, holes on one another', () => {
    const seed = 51_907;
    fc.assert(
      fc.property(
        fc.constantFrom(...drawings.keys()),
        fc.oneof(fc.constant([]), holes, fc.constant([...ordinary, ...ordinary])),
        fc.constantFrom('steel', 'EN AW-6082-T6', 'a metal nobody knows'),
        openings,
        fc.constantFrom(0, 12, 80),
        fc.constantFrom(0.5, 20),
        (name, tapped, faceMaterial, faceOpenings, minimumDaylightMm, sprueMm) => {
          const sprue = { ...demoBolster.sprue, lengthMm: sprueMm };
          const face = { faceMaterial, faceOpenings, minimumDaylightMm, sprue };
          const bolster = { ...demoBolster, ...face, holes: tapped };
          const { findings } = check(name.replace('.dxf', ''), { bolster });
          for (const finding of findings) {
            expectSound(finding);
            expect(wordFinding(finding).summary).not.toMatch(/undefined|NaN|Infinity/);
          }
        },
      ),
      { seed, numRuns: 150 },
    );
  });

  it.each([
    ['no tapped hole at all', []],
    ['only M8', demoBolster.holes.map((hole) => ({ ...hole, thread: 'M8' }))],
    ['only a fine thread', demoBolster.holes.map((hole) => ({ ...hole, thread: 'M6x0.75' }))],
  ])('%s: the bolt pattern stops', (_, tapped) => {
    const bolster = { ...demoBolster, holes: tapped };
    expect(findingOf('tile-spacer-4up', 'bolt-pattern', { bolster })).toMatchObject({
      verdict: 'stop',
      situation: 'no-thread',
    });
  });
});

function expectSound(finding: Finding) {
  const { figure, limit, margin, figures, places, cures, check, situation } = finding;
  const limits = typeof limit === 'object' ? [limit?.min ?? null, limit?.max ?? null] : [limit];
  const points = [...places, ...cures.flatMap(({ at }) => (at ? [at] : []))].flatMap(({ x, y }) => [x, y]);
  const facts = [figures, ...cures.map((cure) => cure.figures)].flatMap((group) =>
    Object.values(group).flat(),
  );
  const amounts = cures.map(({ amount }) => amount);
  for (const value of [figure, ...limits, margin, ...points, ...facts, ...amounts]) {
    if (typeof value !== 'number') continue;
    expect(Number.isFinite(value), `${check} ${situation} has a figure ${value}`).toBe(true);
  }
  if (finding.verdict === 'clear' && margin !== null) expect(margin).toBeGreaterThanOrEqual(-1e-6);
}
