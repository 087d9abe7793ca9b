import { ALLOYS } from '../engineering/press-facts.js';
import type { FieldErrors } from '../http/form.js';
import type { FieldWords } from '../words/en/press.js';

/** A form as it was sent, and what is wrong with it. */
export interface FormShown {
  readonly given: FieldErrors;
  readonly errors: FieldErrors;
}

/** A cell for a figure, as templates/partials/cell.hbs takes it. */
export function figureCell(name: string, words: FieldWords, { given, errors }: FormShown) {
  return { name, ...words, inputMode: 'decimal', value: given[name] ?? '', error: errors[name] };
}

/** A cell with a choice. */
export function choiceCell(
  name: string,
  words: FieldWords,
  options: readonly (readonly [value: string, text: string])[],
  { given, errors }: FormShown,
) {
  const value = given[name] ?? options[0]?.[0] ?? '';
  return {
    name,
    ...words,
    error: errors[name],
    options: options.map(([option, text]) => ({ value: option, text, selected: option === value })),
  };
}

/** Metals to choose from, by the names that people know. */
export const METAL_OPTIONS = ALLOYS.map(
  (alloy) => [alloy, alloy === 'cast-plate' ? 'cast plate' : alloy] as const,
);
