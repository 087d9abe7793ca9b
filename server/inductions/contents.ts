import type { SafeHtml } from '../pictures/safe-html.js';

/** What an induction says, read from its Markdown: parts in order, then what is done with a witness. */
export interface InductionContents {
  readonly parts: readonly InductionPart[];
  readonly practical: PracticalPart;
}

export interface InductionPart {
  readonly title: string;
  readonly blocks: readonly Block[];
  readonly questions: readonly Question[];
}

export interface PracticalPart {
  readonly blocks: readonly Block[];
  /** What a witness sees done, item by item. */
  readonly checklist: readonly string[];
}

export type Block =
  | { readonly kind: 'text'; readonly html: SafeHtml }
  | { readonly kind: 'caution'; readonly html: SafeHtml }
  | { readonly kind: 'figures'; readonly figures: readonly FigureShown[] };

/** One of our own drawings, with what it shows. */
export interface FigureShown {
  readonly name: string;
  readonly caption: string;
  /** What becomes of it, where the caption begins with the word and a colon. */
  readonly verdict: 'clear' | 'caution' | 'stop' | null;
}

export interface Question {
  readonly asks: string;
  readonly answers: readonly Answer[];
}

export interface Answer {
  readonly text: string;
  /** Why it is right, or what is wrong with it. */
  readonly why: string;
  readonly right: boolean;
}

/** What keeps a text from being an induction; `words/` says each. */
export type ContentsFaultCode =
  | 'too-long'
  | 'nested-too-deep'
  | 'no-part'
  | 'before-first-part'
  | 'heading-too-high'
  | 'title-length'
  | 'too-many-parts'
  | 'part-empty'
  | 'picture-not-ours'
  | 'picture-not-alone'
  | 'question-without-answers'
  | 'too-many-questions'
  | 'answer-shape'
  | 'answer-unexplained'
  | 'answer-count'
  | 'right-answer-count'
  | 'practical-missing'
  | 'practical-not-last'
  | 'checklist-missing';

export interface ContentsFault {
  readonly code: ContentsFaultCode;
  /** Counting from 1; where it begins. */
  readonly line: number;
  /** A piece of the text it is about. */
  readonly about?: string;
}
