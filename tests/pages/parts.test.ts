import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { partsExample } from '../../server/pictures/parts-example.js';
import { renderer, type SheetContext } from '../../server/views.js';

const folder = join(import.meta.dirname, '../..');
const { page, partial } = renderer({
  templatesFolder: join(folder, 'templates'),
  publicFolder: join(folder, 'public'),
  assetsPrefix: '/assets/',
  cached: true,
});

const SCRIPT = '<script>alert("x")</script>';
const ESCAPED = '&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt;';

describe('a cell', () => {
  it('has label, hint, error and control in this order, all told to who listens', () => {
    const html = partial('cell', {
      id: 'thicknessMm',
      name: 'thicknessMm',
      label: 'Thickness',
      hint: 'between 2 and 200 mm',
      error: 'Give it in mm',
      value: '12,5 inch',
      unit: 'mm',
    });
    const order = ['<label', 'id="thicknessMm-hint"', 'id="thicknessMm-error"', '<input'].map((part) =>
      html.indexOf(part),
    );
    expect(order).toEqual(order.toSorted((a, b) => a - b));
    expect(html).toContain('for="thicknessMm"');
    expect(html).toContain('aria-describedby="thicknessMm-hint thicknessMm-error thicknessMm-unit"');
    expect(html).toContain('aria-invalid="true"');
    expect(html).toContain('<span class="ps-hidden">Error: </span>Give it in mm');
  });

  it('says nothing of hints and errors it does not have, nor takes them from the page', () => {
    const html = partial('cell', { id: 'a', name: 'a', label: 'A' });
    expect(html).not.toMatch(/describedby|invalid|-error/);
  });

  it('is a select with its chosen option when there are options', () => {
    const html = partial('cell', {
      id: 'alloy',
      name: 'alloy',
      label: 'Alloy',
      options: [
        { value: 'a', text: SCRIPT },
        { value: 'b', text: 'B', selected: true },
      ],
    });
    expect(html).toContain(`<option value="a">${ESCAPED}</option>`);
    expect(html).toContain('<option value="b" selected>B</option>');
    expect(html).not.toContain('<input');
  });
});

describe('an error summary', () => {
  const html = partial('error-summary', {
    title: 'Two things to put right',
    items: [
      { text: SCRIPT, field: 'thicknessMm' },
      { text: 'The press is taken', fix: 'Take a later slot.' },
    ],
  });

  it('is heard at once and can be focused', () => {
    expect(html).toMatch(/role="alert" tabindex="-1" data-error-summary/);
  });

  it('links to the field where there is one, and gives the cure where there is one', () => {
    expect(html).toContain(`<a href="#thicknessMm">${ESCAPED}</a>`);
    expect(html).toContain('The press is taken<span class="ps-summary__fix">Take a later slot.</span>');
  });
});

describe('a notice', () => {
  it('has the shape and word of its verdict', () => {
    const html = partial('notice', { verdict: 'caution', text: 'Mind' });
    expect(html).toContain('role="status"');
    expect(html).toMatch(/ps-verdict--caution"><svg[^>]*aria-hidden="true".*<span>caution<\/span>/);
  });

  it('takes a word of its own instead', () => {
    const html = partial('notice', { word: 'kept', text: 'Yours now' });
    expect(html).toContain('<div class="ps-notice__word">kept</div>');
    expect(html).not.toContain('<svg');
  });
});

describe('a finding', () => {
  const [stop, clear] = partsExample().findings;

  it('is framed, open and named by its word when it is a stop', () => {
    const html = partial('finding', stop ?? {});
    expect(html).toContain('ps-finding--framed');
    expect(html).toContain('<details class="ps-finding__details" open>');
    expect(html).toContain('<span>stop</span>');
  });

  it('offers its cures as buttons of the page’s form', () => {
    const html = partial('finding', stop ?? {});
    expect(html).toMatch(/type="submit" form="parts-form" name="with" value="packerThicknessMm(=|&#x3D;)2"/);
  });

  it('is folded when clear, its word for those who listen alone', () => {
    const html = partial('finding', clear ?? {});
    expect(html).not.toContain(' open');
    expect(html).toContain('<span class="ps-hidden">clear</span>');
    expect(html).not.toContain('<table');
  });
});

describe('choices', () => {
  it('are labelled by a legend and each by its own text', () => {
    const html = partial('choices', {
      legend: 'Slots',
      name: 'slot',
      type: 'radio',
      slot: true,
      items: [{ id: 'slot-a', value: 'a', text: SCRIPT, checked: true, balloon: 'A' }],
    });
    expect(html).toMatch(/<fieldset[^>]*>\s*<legend[^>]*>Slots<\/legend>/);
    expect(html).toContain('type="radio" id="slot-a" name="slot" value="a" checked');
    expect(html).toContain(ESCAPED);
  });
});

describe('a drop zone', () => {
  it('is a real file field with its label, also once a drawing is read', () => {
    const html = partial('drop-zone', {
      id: 'dxf',
      name: 'dxf',
      label: 'Drawing, DXF',
      read: {
        fileName: SCRIPT,
        how: 'read in mm',
        found: '1 outline',
        notices: ['The layer NOTES was left out.'],
      },
    });
    expect(html).toContain('<label class="ps-drop__label" for="dxf">Choose another drawing</label>');
    expect(html).toContain(
      '<input class="ps-drop__input" type="file" id="dxf" name="dxf" accept=".dxf" data-most-mib="8">',
    );
    expect(html).toContain(ESCAPED);
  });
});

describe("the developers' sheet", () => {
  const context: SheetContext = {
    title: 'Parts of the face',
    place: 'Gullwing Yard',
    current: null,
    member: null,
    csrfToken: 'token',
    titleBlock: [{ label: 'Sheet', value: 'Parts' }],
    firstAngle: true,
  };
  const html = page('parts/parts', { ...context, ...partsExample() } as SheetContext);

  it('has no id twice', () => {
    const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
  });

  it('refers only to ids that are there', () => {
    const ids = new Set([...html.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id));
    const wanted = [...html.matchAll(/\s(?:for|form|aria-describedby|aria-labelledby)="([^"]+)"/g)].flatMap(
      ([, list = '']) => list.split(' '),
    );
    const patterns = [...html.matchAll(/url\(#([^)]+)\)/g)].map(([, id]) => id);
    expect([...wanted, ...patterns].filter((id) => !ids.has(id))).toEqual([]);
  });

  it('keeps to the strict policy: no inline style, script or handler', () => {
    expect(html).not.toMatch(/<style|\sstyle=|<script(?![^>]*src=)|\son[a-z]+=/);
  });

  it('names every picture or hides it from who listens', () => {
    const pictures = [...html.matchAll(/<svg[^>]*>/g)].map(([tag]) => tag);
    expect(pictures.length).toBeGreaterThan(30);
    expect(pictures.filter((tag) => !/aria-hidden="true"|role="img" aria-label="[^"]+"/.test(tag))).toEqual(
      [],
    );
  });
});

describe('raw markup', () => {
  it('stands in no template but the layout’s body', () => {
    const templates = readdirSync(join(folder, 'templates'), { recursive: true, encoding: 'utf8' }).filter(
      (file) => file.endsWith('.hbs'),
    );
    const raw = templates.filter((file) =>
      /\{\{\{|\{\{&/.test(readFileSync(join(folder, 'templates', file), 'utf8')),
    );
    expect(raw).toEqual([join('layouts', 'sheet.hbs')]);
  });
});

describe('partials', () => {
  it('are each used by some template, or drawn by a page itself', () => {
    const templates = readdirSync(join(folder, 'templates'), { recursive: true, encoding: 'utf8' }).filter(
      (file) => file.endsWith('.hbs'),
    );
    const used = new Set(
      templates.flatMap((file) => {
        const source = readFileSync(join(folder, 'templates', file), 'utf8').replace(
          /\{\{!--.*?--\}\}/gs,
          '',
        );
        return [...source.matchAll(/\{\{#?> ([a-z-]+)/g)].map(([, name]) => name);
      }),
    );
    for (const file of readdirSync(join(folder, 'server'), { recursive: true, encoding: 'utf8' })) {
      if (!file.endsWith('.ts')) continue;
      const source = readFileSync(join(folder, 'server', file), 'utf8');
      for (const [, name = ''] of source.matchAll(/\bpartial\('([a-z-]+)'/g)) used.add(name);
    }
    const names = readdirSync(join(folder, 'templates/partials')).map((file) => file.replace('.hbs', ''));
    expect(names.filter((name) => !used.has(name))).toEqual([]);
  });
});
