import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Block, ContentsFault, InductionContents } from '../../server/inductions/contents.js';
import { FIRST_COMPETENCES } from '../../server/inductions/first-contents.js';
import { readContents } from '../../server/inductions/read-contents.js';
import { INDUCTION_FIGURES } from '../../server/pictures/induction-figures.js';

const FOLDER = join('server', 'inductions', 'first-contents');

function contentsOf(text: string): InductionContents {
  const read = readContents(text);
  if ('parts' in read) return read;
  throw new Error(`Not an induction: ${JSON.stringify(read)}`);
}

function faultsOf(text: string): readonly Omit<ContentsFault, 'about'>[] {
  const read = readContents(text);
  return 'parts' in read ? [] : read.map(({ code, line }) => ({ code, line }));
}

const PRACTICAL = '\n\n## Practical part\n\n- Did it\n';
const QUESTION = '\n\n### Question: Yes?\n- [x] Yes\n  It is.\n- [ ] No\n  It is not.\n';

describe('the first contents', () => {
  it('are those that every house begins with, and no other', async () => {
    expect((await readdir(FOLDER)).sort()).toEqual(FIRST_COMPETENCES.map(({ name }) => `${name}.md`).sort());
  });

  it.each(FIRST_COMPETENCES)(
    '$name: parts that ask, cautions with a source, a checklist',
    async ({ name }) => {
      const text = await readFile(join(FOLDER, `${name}.md`), 'utf8');
      const { parts, practical } = contentsOf(text);
      expect(parts.length).toBeGreaterThanOrEqual(3);
      for (const { title, questions } of parts) expect(questions.length, title).toBeGreaterThanOrEqual(1);
      const cautions = [...parts, practical].flatMap(({ blocks }) => markupOf(blocks, 'caution'));
      expect(cautions.length).toBeGreaterThanOrEqual(3);
      expect(practical.checklist.length).toBeGreaterThanOrEqual(5);
    },
  );

  it('show every drawing there is', async () => {
    const texts = await Promise.all(
      FIRST_COMPETENCES.map(({ name }) => readFile(join(FOLDER, `${name}.md`), 'utf8')),
    );
    const shown = texts
      .flatMap((text) => contentsOf(text).parts)
      .flatMap(({ blocks }) =>
        blocks.flatMap((block) => (block.kind === 'figures' ? block.figures.map(({ name }) => name) : [])),
      );
    expect(new Set(shown)).toEqual(new Set(INDUCTION_FIGURES));
  });
});

function markupOf(blocks: readonly Block[], kind: 'text' | 'caution'): readonly string[] {
  return blocks.flatMap((block) => (block.kind === kind && 'html' in block ? [block.html.markup] : []));
}

describe('Markdown that wants more than it may', () => {
  const markup = (text: string) =>
    contentsOf(`## One\n\n${text}${PRACTICAL}`)
      .parts.flatMap(({ blocks }) => [...markupOf(blocks, 'text'), ...markupOf(blocks, 'caution')])
      .join('');

  it.each([
    ['a script', '<script>alert(1)</script>'],
    ['a handler', '<img src=x onerror=alert(1)>'],
    ['a frame in a quote', '> <iframe src="https://elsewhere.example"></iframe>'],
    ['a style', '<style>* { display: none }</style>'],
    ['a form in a list', '- <form action="/sign-out"><button>x</button></form>'],
    ['a comment', '<!-- --><svg onload=alert(1)>'],
  ])('%s is text like any other', (_what, text) => {
    expect(markup(text).replace(/<\/?(p|ul|li)>/g, '')).not.toMatch(/<[a-z!]/i);
  });

  it.each([
    'javascript:alert(1)',
    'JaVaScRiPt:alert(1)',
    'data:text/html,x',
    'vbscript:x',
    '&#106;avascript:alert(1)',
    '//elsewhere.example',
  ])('a link to %s leads nowhere', (href) => {
    expect(markup(`[here](${href})`)).not.toMatch(/href="(?!https?:)/);
  });

  it('a link to a page keeps its address and tells it nothing', () => {
    expect(markup('[law](https://law.example/a?b=1&c=2)')).toContain(
      '<a href="https://law.example/a?b=1&amp;c=2" rel="noopener noreferrer">law</a>',
    );
  });

  it.each([
    ['a picture from elsewhere', '![x](https://elsewhere.example/x.png)', 'picture-not-ours'],
    ['a picture in the text itself', '![x](data:image/png;base64,AAAA)', 'picture-not-ours'],
    ['a drawing we do not have', '![x](figure:castle)', 'picture-not-ours'],
    ['a drawing among words', 'See ![x](figure:guard-zones) there', 'picture-not-alone'],
    ['a drawing in a caution', '> ![x](figure:guard-zones)', 'picture-not-alone'],
    ['quotes in quotes without end', `${'>'.repeat(2000)} deep`, 'nested-too-deep'],
    ['lists in lists without end', deepList(100), 'nested-too-deep'],
    ['more than fits', 'x '.repeat(30_000), 'too-long'],
  ])('%s is refused', (_what, text, code) => {
    expect(faultsOf(`## One\n\n${text}${PRACTICAL}`).map((fault) => fault.code)).toContain(code);
  });

  it.each([
    ['brackets', '['.repeat(39_000)],
    ['picture marks', '!['.repeat(19_000)],
    ['stars', '*a_'.repeat(13_000)],
    ['back-ticks', Array.from({ length: 270 }, (_, i) => '`'.repeat(i)).join(' ')],
    ['entities', '&#'.repeat(19_000)],
  ])('thousands of %s are read to the end', (_what, text) => {
    expect(readContents(`## One\n\n${text}${PRACTICAL}`)).toBeDefined();
  });
});

function deepList(levels: number): string {
  return Array.from({ length: levels }, (_, i) => `${' '.repeat(2 * i)}- x`).join('\n');
}

describe('what is not an induction', () => {
  const part = '## One\n\nText.';
  it.each<[string, string, string, number]>([
    ['nothing', '', 'no-part', 1],
    ['words before the first part', `Hello.\n\n${part}${PRACTICAL}`, 'before-first-part', 1],
    ['a title of its own', `# Title\n\n${part}${PRACTICAL}`, 'heading-too-high', 1],
    ['no practical part', part, 'practical-missing', 1],
    [
      'a practical part that is not the last',
      `## Practical part\n\n- Did it\n\n${part}`,
      'practical-not-last',
      1,
    ],
    ['nothing to witness', `${part}\n\n## Practical part\n\nDo it.`, 'checklist-missing', 5],
    ['an empty part', `## One\n\n${part}${PRACTICAL}`, 'part-empty', 1],
    [
      'a question without answers',
      `${part}\n\n### Question: Why?${PRACTICAL}`,
      'question-without-answers',
      5,
    ],
    ['one answer', `${part}\n\n### Question: Why?\n- [x] So\n  It is.${PRACTICAL}`, 'answer-count', 5],
    ['no right answer', `${part}${QUESTION.replace('[x]', '[ ]')}${PRACTICAL}`, 'right-answer-count', 5],
    ['two right answers', `${part}${QUESTION.replace('[ ]', '[x]')}${PRACTICAL}`, 'right-answer-count', 5],
    [
      'an answer that says no reason',
      `${part}${QUESTION.replace('  It is.\n', '')}${PRACTICAL}`,
      'answer-unexplained',
      6,
    ],
    [
      'an answer without its box',
      `${part}${QUESTION.replace('[ ] No', 'No')}${PRACTICAL}`,
      'answer-shape',
      6,
    ],
  ])('%s is said with its line', (_what, text, code, line) => {
    expect(faultsOf(text)).toContainEqual({ code, line });
  });

  it('and what is one has no fault', () => {
    const { parts, practical } = contentsOf(`${part}${QUESTION}${PRACTICAL}`);
    expect(parts[0]?.questions).toEqual([
      {
        asks: 'Yes?',
        answers: [
          { text: 'Yes', why: 'It is.', right: true },
          { text: 'No', why: 'It is not.', right: false },
        ],
      },
    ]);
    expect(practical.checklist).toEqual(['Did it']);
  });
});
