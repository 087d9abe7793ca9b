import type { Token } from 'markdown-it';
import type {
  Block,
  ContentsFault,
  ContentsFaultCode,
  InductionContents,
  InductionPart,
  PracticalPart,
} from './contents.js';
import { htmlOf, NESTING_MAX, tokensOf, wordsOf } from './markdown.js';
import { readFigures } from './read-figures.js';
import { readQuestion } from './read-question.js';

const CONTENTS_LENGTH_MAX = 40_000;
const PARTS_MAX = 20;
const QUESTIONS_MAX = 8;
const TITLE_LENGTH_MAX = 60;

/** The heading of the last part, whose list is what a witness sees done. */
const PRACTICAL_TITLE = 'Practical part';
const QUESTION = /^Question:\s*/;

/** One top-level block of the text with all that is inside it. */
export type TopBlock = readonly [Token, ...Token[]];

/**
 * Reads an induction from its Markdown:
 *
 * - `## Title` begins a part; the last one is `## Practical part`, whose list is the witness's checklist;
 * - `> text` is a caution;
 * - `![what it shows](figure:name)` alone in a paragraph is one of our drawings, several stand abreast;
 * - `### Question: …` with a list of `- [ ] answer` and one `- [x] answer`, each with its reason on the next line.
 *
 * @returns the contents, or everything that is wrong with the text
 */
export function readContents(text: string): InductionContents | readonly ContentsFault[] {
  if (text.length > CONTENTS_LENGTH_MAX) return [{ code: 'too-long', line: 1 }];
  const tokens = tokensOf(text);
  const tooDeep = tokens.find(({ level }) => level > NESTING_MAX * 2);
  if (tooDeep !== undefined) return [{ code: 'nested-too-deep', line: lineOf(tooDeep) }];
  const blocks = topBlocksOf(tokens);
  const starts = blocks.flatMap((block, place) => (headingOf(block) === 2 ? [place] : []));
  const [first] = starts;
  if (first === undefined) return [{ code: 'no-part', line: 1 }];
  const faults: ContentsFault[] = [];
  const fault = (code: ContentsFaultCode, block: TopBlock, about?: string): void => {
    faults.push({ code, line: lineOf(block[0]), ...(about !== undefined && { about }) });
  };
  for (const block of blocks) if (headingOf(block) === 1) fault('heading-too-high', block);
  for (const block of blocks.slice(0, first)) if (headingOf(block) !== 1) fault('before-first-part', block);
  if (starts.length - 1 > PARTS_MAX) faults.push({ code: 'too-many-parts', line: 1 });

  const parts: InductionPart[] = [];
  let practical: PracticalPart | undefined;
  for (const [i, start] of starts.entries()) {
    const [head, ...body] = blocks.slice(start, starts[i + 1]) as [TopBlock, ...TopBlock[]];
    const title = wordsOf(head[1]);
    if (title.length < 1 || title.length > TITLE_LENGTH_MAX) fault('title-length', head, title);
    if (title !== PRACTICAL_TITLE) {
      parts.push(readPart(title, head, body, fault));
    } else if (i === starts.length - 1) {
      practical = readPractical(head, body, fault);
    } else {
      fault('practical-not-last', head);
      practical = { blocks: [], checklist: [] };
    }
  }
  if (parts.length === 0) faults.push({ code: 'no-part', line: 1 });
  if (practical === undefined) faults.push({ code: 'practical-missing', line: 1 });
  return faults.length > 0 || practical === undefined ? faults : { parts, practical };
}

export type FaultAt = (code: ContentsFaultCode, block: TopBlock, about?: string) => void;

function readPart(title: string, head: TopBlock, body: readonly TopBlock[], fault: FaultAt): InductionPart {
  const blocks: Block[] = [];
  const questions: InductionPart['questions'][number][] = [];
  for (let i = 0; i < body.length; i++) {
    const block = body[i] as TopBlock;
    if (headingOf(block) === 3 && QUESTION.test(wordsOf(block[1]))) {
      const list = body[i + 1];
      const asks = wordsOf(block[1]).replace(QUESTION, '');
      if (list?.[0].type === 'bullet_list_open') i++;
      questions.push(readQuestion(asks, block, list, fault));
    } else {
      addBlock(blocks, block, fault);
    }
  }
  if (blocks.length === 0) fault('part-empty', head, title);
  if (questions.length > QUESTIONS_MAX) fault('too-many-questions', head, title);
  return { title, blocks, questions };
}

function readPractical(head: TopBlock, body: readonly TopBlock[], fault: FaultAt): PracticalPart {
  const blocks: Block[] = [];
  const checklist: string[] = [];
  for (const block of body) {
    if (block[0].type === 'bullet_list_open') checklist.push(...itemsOf(block));
    else addBlock(blocks, block, fault);
  }
  if (checklist.length === 0) fault('checklist-missing', head);
  return { blocks, checklist };
}

/** The items of a list, each as its words. */
function itemsOf(list: TopBlock): readonly string[] {
  return list.filter(({ type, level }) => type === 'inline' && level === 3).map((inline) => wordsOf(inline));
}

function addBlock(blocks: Block[], block: TopBlock, fault: FaultAt): void {
  const figures = readFigures(block, fault);
  if (figures !== undefined) {
    if (figures.length > 0) blocks.push({ kind: 'figures', figures });
    return;
  }
  if (block[0].type === 'blockquote_open') {
    blocks.push({ kind: 'caution', html: htmlOf(block.slice(1, -1)) });
  } else {
    blocks.push({ kind: 'text', html: htmlOf(block) });
  }
}

/** The level of a heading, 0 for anything else. */
function headingOf([open]: TopBlock): number {
  return open.type === 'heading_open' ? Number(open.tag.slice(1)) : 0;
}

function lineOf({ map }: Token): number {
  return (map?.[0] ?? 0) + 1;
}

function topBlocksOf(tokens: readonly Token[]): readonly TopBlock[] {
  const blocks: Token[][] = [];
  let current: Token[] = [];
  for (const token of tokens) {
    current.push(token);
    // A block is complete when the parser is back at the top and nothing was opened.
    if (token.level === 0 && token.nesting <= 0) {
      blocks.push(current);
      current = [];
    }
  }
  return blocks as unknown as readonly TopBlock[];
}
