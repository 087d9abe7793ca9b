import type { Token } from 'markdown-it';
import type { Answer, Question } from './contents.js';
import { wordsOf } from './markdown.js';
import type { FaultAt, TopBlock } from './read-contents.js';

const ANSWERS_MIN = 2;
const ANSWERS_MAX = 6;
const TICKED = /^\[([ xX])\]\s+/;

/** A question with the list that follows it: one answer is right, and each says why it is or is not. */
export function readQuestion(
  asks: string,
  heading: TopBlock,
  list: TopBlock | undefined,
  fault: FaultAt,
): Question {
  if (list?.[0].type !== 'bullet_list_open') {
    fault('question-without-answers', heading, asks);
    return { asks, answers: [] };
  }
  const answers = list
    .filter(({ type, level }) => type === 'inline' && level === 3)
    .map((inline) => readAnswer(inline, list, fault));
  if (answers.length < ANSWERS_MIN || answers.length > ANSWERS_MAX) fault('answer-count', heading, asks);
  if (answers.filter(({ right }) => right).length !== 1) fault('right-answer-count', heading, asks);
  return { asks, answers };
}

function readAnswer(inline: Token, list: TopBlock, fault: FaultAt): Answer {
  const [first = '', ...rest] = wordsOf(inline).split('\n');
  const tick = TICKED.exec(first)?.[1];
  const text = first.replace(TICKED, '').trim();
  const why = rest.join(' ').trim();
  if (tick === undefined || text === '') fault('answer-shape', list, first.slice(0, 60));
  else if (why === '') fault('answer-unexplained', list, text.slice(0, 60));
  return { text, why, right: tick === 'x' || tick === 'X' };
}
