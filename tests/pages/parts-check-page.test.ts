import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { measureDxf } from '../../server/engineering/drawing/measure-drawing.js';
import { checkPlate } from '../../server/engineering/plate-check.js';
import { POLYMERS } from '../../server/engineering/polymers/polymers.js';
import type { PlateFacts } from '../../server/engineering/press-facts.js';
import { checkResult } from '../../server/plates/check-page.js';
import { changeAsForm, changeFromForm } from '../../server/plates/check-page-findings.js';
import { CHECK_FORM_BEGINS, checkForm } from '../../server/plates/check-page-form.js';
import { renderer, type SheetContext } from '../../server/views.js';
import { demoBolster, demoPress, demoRules, samplePlate } from '../support/gullwing.js';

const folder = join(import.meta.dirname, '../..');
const { page } = renderer({
  templatesFolder: join(folder, 'templates'),
  publicFolder: join(folder, 'public'),
  assetsPrefix: '/assets/',
  cached: true,
});
const polymer = POLYMERS.find(({ symbol }) => symbol === 'PP');
const bolster = {
  id: 'bolster-1',
  version: 3,
  name: 'Bolster 1',
  pressId: 'press',
  mounted: true,
  facts: demoBolster,
};

function resultOf(sample: string, change: Partial<PlateFacts> = {}) {
  if (!polymer) throw new Error('no polymer PP');
  const dxf = readFileSync(join(folder, 'tests/samples', `${sample}.dxf`));
  const drawing = measureDxf(dxf, { sprueDiameterMm: demoBolster.sprue.partingFaceDiameterMm });
  const facts = { ...samplePlate, ...change };
  const check = checkPlate({
    drawing,
    plate: facts,
    polymer,
    bolster: demoBolster,
    press: demoPress,
    rules: demoRules,
  });
  return checkResult({ drawing, facts, bolster, check });
}

describe('the result of a check', () => {
  const thin = resultOf('board-counter-8up', { thicknessMm: 10 });

  it('counts verdicts in the stamp as the list has them', () => {
    const counts = thin.stamp.count.match(/\d+/g)?.map(Number) ?? [];
    const clear = thin.clear.flat().flatMap((group) => group.findings);
    expect(thin.stamp.verdict).toBe('stop');
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(thin.notClear.length + clear.length);
    expect(clear.every((finding) => finding.verdict === 'clear')).toBe(true);
  });

  it('numbers what is not clear and has a place, once in the list and once in a picture', () => {
    const numbers = thin.notClear.flatMap((finding) => finding.balloon ?? []);
    expect(numbers).toEqual(numbers.map((_number, index) => String(index + 1)));
    const drawn = [thin.pictures.plan, thin.pictures.stack].flatMap(({ markup }) =>
      [...markup.matchAll(/class="ps-balloon-text[^>]*>([^<]+)</g)].map(([, words]) => words),
    );
    expect(drawn.toSorted()).toEqual(numbers);
  });

  it('shows why a thin stack is a stop, and a packer to try at once', () => {
    const daylight = thin.notClear.find(({ finding }) => finding.check === 'daylight');
    expect(daylight).toMatchObject({ verdict: 'stop', open: true });
    expect(daylight?.section?.markup).toContain('2.0 gap');
    expect(daylight?.cures.map(({ tryWith }) => tryWith)).toContain('packerThicknessMm=2.2');
  });

  it('shows each kind of part once', () => {
    expect(thin.pictures.parts).toHaveLength(1);
    expect(thin.pictures.parts[0]?.text).toMatch(/^Eight in a shot/);
  });

  it('says which hole meets none', () => {
    const { holes, pictures } = resultOf('bolt-off-grid');
    expect(holes.filter(({ meets }) => meets === 'no').map(({ off }) => off)).toEqual(['3.00 mm']);
    expect(pictures.plan.markup).toContain('ps-ring');
  });

  it('goes to a page whose cures belong to its form and whose picture is named', () => {
    const html = page('check/check', {
      title: 'Board counter',
      place: 'Gullwing Yard',
      current: 'check',
      member: null,
      csrfToken: 'token',
      titleBlock: [],
      form: checkForm({
        values: { ...CHECK_FORM_BEGINS, bolsterId: bolster.id },
        bolsters: [bolster],
        errors: { thicknessMm: 'Give it in mm' },
        read: null,
        drawing: 'H4sI',
        fileName: 'board "counter".dxf',
      }),
      result: thin,
      keep: { signedIn: false, action: '/plates', name: '', note: '' },
      samples: [],
    } as SheetContext);
    const cures = [...html.matchAll(/<button[^>]*name="with"[^>]*>/g)].map(([tag]) => tag);
    expect(cures.length).toBeGreaterThan(1);
    expect(cures.every((tag) => tag.includes('form="check-form"'))).toBe(true);
    expect(html).toContain('<input type="hidden" name="fileName" value="board &quot;counter&quot;.dxf">');
    expect(html).toMatch(/<svg class="ps-picture ps-plan"[^>]*role="img" aria-label="Plate 180.0 × 140.0 mm/);
    expect(html).not.toMatch(/undefined|NaN|\[object/);
  });
});

describe('a change to try', () => {
  it('goes through a button and back', () => {
    const change = { packerThicknessMm: 2, screwLengthMm: 16, alloy: 'EN AW-6082-T6' };
    expect(changeFromForm(changeAsForm(change) ?? '')).toEqual({
      packerThicknessMm: '2',
      screwLengthMm: '16',
      alloy: 'EN AW-6082-T6',
    });
  });

  it('takes no field that is not one', () => {
    expect(changeFromForm('thicknessMm=12&__proto__=x&bolsterId=other')).toEqual({ thicknessMm: '12' });
  });

  it('is none when the drawing must change', () => {
    expect(changeAsForm(null)).toBeNull();
    expect(changeAsForm({})).toBeNull();
  });
});
