/**
 * One line of a working. Names in braces stand for the step's figures; `put` is the formula with its numbers in place,
 * `gives` what comes out. An input has only what it is and what it gives.
 */
export interface WorkingLine {
  readonly what: string;
  readonly formula?: string;
  readonly put?: string;
  readonly gives: string;
}

/** All lines of one check, by what its steps say. */
export type WorkingWords = { readonly [says: string]: WorkingLine };
