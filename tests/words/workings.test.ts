import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CheckName, Finding } from '../../server/engineering/finding.js';
import { checkPlate } from '../../server/engineering/plate-check.js';
import { findPolymer, POLYMERS, type Polymer } from '../../server/engineering/polymers/polymers.js';
import { wordWorking } from '../../server/words/en/working.js';
import { expectedSamples, sampleDrawing } from '../engineering/fit/samples.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../support/gullwing.js';

const FOLDER = join(import.meta.dirname, '..', 'samples');
const SAMPLES = Object.keys(expectedSamples()).filter((file) => readdirSync(FOLDER).includes(file));
const ground = { plate: samplePlate, bolster: demoBolster, press: demoPress, rules: demoRules };

function findingsOf(file: string, polymer: Polymer, over: object = {}): readonly Finding[] {
  return checkPlate({ drawing: sampleDrawing(file), polymer, ...ground, ...over }).findings;
}

const UNIT =
  /(?<=[\d)]) (?:mm²\/s|cm³\/s|g\/cm³|J\/g|J\/K|W\/K|mm³|cm³|mm²|mm|MPa|kN|min|s|W|J|K|g)(?=[\s)]|$)/g;

/** A formula with its numbers in place, reckoned as a pocket calculator does; null where it is none. */
function reckoned(put: string): number | null {
  const plain = put.replace(UNIT, '').replaceAll('−', '-').replaceAll('×', '*').replaceAll('^', '**');
  const names = plain.match(/[a-z]+/gi) ?? [];
  const isFormula = /[*/+]|\d -|exp|sqrt/.test(plain) && !/[^\d\s.()*/+\-a-z]/i.test(plain);
  if (!isFormula || names.some((name) => name !== 'exp' && name !== 'sqrt')) return null;
  return Number(new Function('exp', 'sqrt', `return ${plain}`)(Math.exp, Math.sqrt));
}

/** Formula and result of a line, as it is printed. */
function lineParts(text: string) {
  const parts = text.split(' = ');
  const put = parts.at(-2)?.split(': ').at(-1) ?? '';
  const gives = Number.parseFloat((parts.at(-1) ?? '').replace('−', '-'));
  const inputs = (put.match(/\d+(?:\.\d+)?/g) ?? []).map(Number);
  return { put, gives, inputs };
}

/** Lines whose printed numbers were reckoned again. */
function followed(finding: Finding): number {
  let count = 0;
  for (const { text, source } of wordWorking(finding)) {
    expect(source, text).not.toBe('');
    expect(text).not.toMatch(/NaN|Infinity|undefined/);
    const { put, gives, inputs } = lineParts(text);
    const value = reckoned(put);
    if (value === null) continue;
    // Four digits of each number: a percent, and where large ones cancel a few of their last digits.
    const within = 0.01 * Math.abs(gives) + (/ [−+] /.test(put) ? 0.001 * Math.max(...inputs) : 0) + 1e-6;
    expect(Math.abs(value - gives), `${text} is ${value}`).toBeLessThanOrEqual(within);
    count += 1;
  }
  return count;
}

/** At least so many lines of each are formulas. */
const FORMULAS: { readonly [check in CheckName]?: number } = {
  'screw-engagement': 3,
  daylight: 3,
  'clamp-force': 3,
  'land-pressure': 3,
  'shot-volume': 6,
  residence: 3,
  'gate-shear': 4,
  'fill-pressure': 6,
  cooling: 4,
  'plate-warming': 7,
  shrinkage: 4,
};

describe('how a figure is worked out can be followed on paper', () => {
  const PP = findPolymer('PP') as Polymer;

  it.each(SAMPLES)('%s in PP: every printed formula gives what is printed beside it', (file) => {
    for (const finding of findingsOf(file, PP)) followed(finding);
  });

  it('in every polymer there is', () => {
    for (const polymer of POLYMERS) {
      for (const finding of findingsOf('tile-spacer-4up.dxf', polymer)) followed(finding);
    }
  });

  it('with a run, a chiller, a facing plate and a thick plate', () => {
    const plate = { ...samplePlate, facingThicknessMm: 6, thicknessMm: 25 };
    const press = { ...demoPress, chiller: { flowLPerMin: 6, waterC: 18 } };
    for (const chiller of [true, false]) {
      const run = { shots: 400, chiller };
      for (const finding of findingsOf('drawer-pull.dxf', PP, { plate, press, run })) followed(finding);
    }
  });

  it.each(Object.entries(FORMULAS))('%s shows at least %i formulas', (check, least) => {
    const finding = findingsOf('tile-spacer-4up.dxf', PP).find((one) => one.check === check) as Finding;
    expect(followed(finding)).toBeGreaterThanOrEqual(least);
  });

  it('the last formula ends at the finding’s own figure', () => {
    const ends: readonly (readonly [CheckName, number])[] = [
      ['shot-volume', -3],
      ['residence', 2],
      ['gate-shear', -1],
      ['fill-pressure', -2],
      ['cooling', -1],
    ];
    const findings = findingsOf('board-counter-8up.dxf', PP);
    for (const [check, at] of ends) {
      const finding = findings.find((one) => one.check === check) as Finding;
      const { gives } = lineParts(wordWorking(finding).at(at)?.text ?? '');
      const figure = check === 'cooling' ? Number(finding.figures.cycleS) : (finding.figure ?? NaN);
      expect(gives / figure, check).toBeCloseTo(1, 2);
    }
  });
});
