import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DrawingRefused } from '../../server/engineering/drawing/drawing-refusal.js';
import { measureDxf } from '../../server/engineering/drawing/measure-drawing.js';
import type { MeasuredDrawing } from '../../server/engineering/drawing/measured-drawing.js';
import { checkPlate } from '../../server/engineering/plate-check.js';
import { POLYMERS } from '../../server/engineering/polymers/polymers.js';
import { ALLOYS } from '../../server/engineering/press-facts.js';
import { checkReportSchema, drawingReportSchema } from '../../server/plates/check-report-schema.js';
import { refusalOfDrawing } from '../../server/plates/refusal-of-drawing.js';
import { PROJECT_FOLDER } from '../../server/project-folder.js';
import { marginText, wordDrawing, wordReason, wordReport } from '../../server/words/index.js';
import { demoBolster, demoPress, demoRules } from '../support/gullwing.js';

const FOLDER = join(PROJECT_FOLDER, 'tests', 'samples');
const SPRUE = { sprueDiameterMm: 3.5 };

interface Refused {
  readonly keywords: readonly string[];
  readonly where?: {
    readonly layer?: string;
    readonly x_mm?: number;
    readonly y_mm?: number;
    readonly block?: string;
    readonly entity?: string;
  };
}

const { files } = JSON.parse(readFileSync(join(FOLDER, 'expected.json'), 'utf8')) as {
  files: { [name: string]: { readable: boolean; refusal?: Refused } };
};

const names = readdirSync(FOLDER).filter((name) => name.endsWith('.dxf'));
const drawings = new Map<string, MeasuredDrawing>(
  names
    .filter((name) => files[name]?.readable)
    .map((name) => [name, measureDxf(readFileSync(join(FOLDER, name)), SPRUE)]),
);

/** Text that no person should see. */
const UNREADABLE = /undefined|NaN|Infinity|null|\[object|\(\)| {2}|\.\.| \./;

const CUTTER = { feature: null, form: null, diameterMm: null, taperDeg: null };
const MILLING = [
  { draftDeg: null, cutters: [] },
  { draftDeg: 0, cutters: [{ ...CUTTER, diameterMm: 8 }] },
  { draftDeg: 25, cutters: [] },
  { draftDeg: null, cutters: [{ ...CUTTER, form: 'ball', diameterMm: 0.5 } as const] },
];

describe('a report', () => {
  it('reads well, stays in its shape and holds no unreadable text, whatever the plate', () => {
    const seed = 90_211;
    fc.assert(
      fc.property(
        fc.constantFrom(...drawings),
        fc.constantFrom(...POLYMERS),
        fc.constantFrom(...ALLOYS),
        fc.constantFrom('M4', 'M6', 'M10'),
        fc.constantFrom(6, 10, 16, 25, 70),
        fc.constantFrom(0, 8),
        fc.constantFrom(8, 16, 20, 50),
        fc.constantFrom(null, 2, 7, 15),
        fc.constantFrom([1, 40], [50, 500], [400, 2000]),
        fc.constantFrom(...MILLING),
        (
          [, drawing],
          polymer,
          alloy,
          size,
          thicknessMm,
          facingThicknessMm,
          lengthMm,
          sinkMm,
          [minKn, maxKn],
          milling,
        ) => {
          const stack = { thicknessMm, facingThicknessMm, packerThicknessMm: 0, alloy, partHeightMm: null };
          const screw = { size, lengthMm, headSinkDepthMm: sinkMm, headSinkDiameterMm: null };
          const clamp = { ...demoPress.clamp, minKn: minKn ?? 0, maxKn: maxKn ?? 0 };
          const ground = { bolster: demoBolster, press: { ...demoPress, clamp }, rules: demoRules };
          const check = checkPlate({
            drawing,
            plate: { ...stack, ...milling, screw, screwGroups: [] },
            polymer,
            ...ground,
          });
          const report = wordReport(check, {
            ...{ drawing, polymer: polymer.symbol, bolster: { id: 'demo', version: 3 } },
          });
          expect(checkReportSchema.parse(report)).toEqual(report);
          for (const finding of report.findings) {
            const { line, summary, advice, cures, verdict } = finding;
            const texts = [line, summary, advice, ...cures.flatMap(({ what, also }) => [what, also])];
            for (const text of texts) {
              if (text !== null)
                expect(text, `${finding.check} ${finding.situation}`).not.toMatch(UNREADABLE);
            }
            expect(summary).toMatch(/^[A-Z0-9].*[.!)]$/s);
            if (verdict === 'stop' && cures.length > 0) expect(advice).not.toBeNull();
          }
        },
      ),
      { seed, numRuns: 250 },
    );
  });

  it.each([...drawings])('%s: the drawing alone has the shape it is documented with', (_name, drawing) => {
    const report = wordDrawing(drawing);
    expect(drawingReportSchema.parse(report)).toEqual(report);
  });

  it.each([
    [-2, 'mm', '2.0 mm too thin'],
    [0.5, 'mm', '0.50 mm to spare'],
    [0.042, 'mm', '0.042 mm to spare'],
    [-88, 'kN', '88 kN too thin'],
    [0, 'mm', 'just met'],
    [null, 'mm', null],
  ])('a margin of %s %s reads %s', (margin, unit, text) => {
    expect(marginText({ margin, unit }, 'too thin')).toBe(text);
  });
});

describe('a refused drawing', () => {
  const refused = names.filter((name) => files[name]?.readable === false);

  it.each(refused)('%s says why in words a person would search for, and where', (name) => {
    const { keywords, where = {} }: Refused = files[name]?.refusal ?? { keywords: [] };
    let reasons: readonly { message: string; fix: string }[] = [];
    try {
      measureDxf(readFileSync(join(FOLDER, name)), SPRUE);
    } catch (error) {
      if (!(error instanceof DrawingRefused)) throw error;
      reasons = refusalOfDrawing(error).reasons.map(wordReason);
    }
    expect(reasons.length).toBeGreaterThan(0);
    const said = reasons.map(({ message }) => message).join(' ');
    const text = said.toLowerCase();
    expect(
      keywords.some((word) => text.includes(word.toLowerCase())),
      said,
    ).toBe(true);
    for (const wanted of [where.layer, where.block, where.entity]) if (wanted) expect(said).toContain(wanted);
    if (where.x_mm !== undefined) expect(said).toContain(`x ${where.x_mm.toFixed(1)}`);
    for (const { message, fix } of reasons) {
      expect(message).not.toMatch(UNREADABLE);
      expect(fix).not.toMatch(UNREADABLE);
    }
  });
});
