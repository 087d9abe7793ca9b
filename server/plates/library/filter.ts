import { z } from 'zod';
import { findPolymer } from '../../engineering/polymers/polymers.js';
import { pageQuery } from '../../http/cursor.js';
import { text } from '../../http/text.js';
import { LIBRARY_ERRORS as ERRORS } from '../../words/en/library.js';
import { PLATE_CONDITIONS } from '../store.js';

/** Who may run it, from where one stands. */
const WHOSE = ['mine', 'run', 'see'] as const;
const SIZES = ['plate', 'part'] as const;
const RETIRED = ['no', 'yes', 'all'] as const;

/** Longer than any plate or press here. */
const LENGTH_MAX_MM = 2000;
const WRITTEN = /^\d+(?:[.,]\d+)?$/;

const length = z
  .string(ERRORS.length)
  .trim()
  .regex(WRITTEN, { error: ERRORS.length, abort: true })
  .transform((given) => Number(given.replace(',', '.')))
  .refine((mm) => mm <= LENGTH_MAX_MM, ERRORS.length);

const resin = z
  .string(ERRORS.resin)
  .trim()
  .max(20, ERRORS.resin)
  .transform((given, context) => {
    const polymer = findPolymer(given);
    if (polymer !== null) return polymer.symbol;
    context.addIssue({ code: 'custom', message: ERRORS.resin });
    return z.NEVER;
  });

const words = text(80).refine((given) => wordsOf(given).length > 0, ERRORS.words);

const filters = {
  words: words
    .optional()
    .meta({ description: 'Each the beginning of a word in the name, notes, or file name of the plate.' }),
  resin: resin.optional().meta({ description: 'Cleared for it on the mounted bolster: a polymer’s symbol.' }),
  size: z
    .enum(SIZES, ERRORS.size)
    .default('part')
    .meta({ description: 'Of what the longer side is from minMm to maxMm.' }),
  minMm: length.optional(),
  maxMm: length.optional(),
  condition: z.enum(PLATE_CONDITIONS, ERRORS.condition).optional(),
  whose: z
    .enum(WHOSE, ERRORS.whose)
    .optional()
    .meta({ description: 'One’s own, shared by others to be run, or shared by others to be seen only.' }),
  cleared: z
    .enum(['yes', 'no'], ERRORS.cleared)
    .optional()
    .meta({ description: 'For production on the mounted bolster.' }),
  place: text(60).optional().meta({ description: 'A part of what is said about where it lies.' }),
  retired: z.enum(RETIRED, ERRORS.retired).default('no'),
};

function inOrder<Schema extends z.ZodType<{ minMm?: number | undefined; maxMm?: number | undefined }>>(
  schema: Schema,
) {
  return schema.refine(({ minMm = 0, maxMm = LENGTH_MAX_MM }) => minMm <= maxMm, {
    path: ['maxMm'],
    error: ERRORS.order,
  });
}

/** Query of the list over the API; a filter that there is none of is refused, not passed over. */
export const libraryQuery = inOrder(z.strictObject({ ...pageQuery.shape, ...filters }));

/** The same as a page's form sends it, where an empty field asks nothing. */
export const libraryForm = z.preprocess(
  (given) =>
    Object.fromEntries(
      Object.entries(given as object).filter(([name, value]) => value !== '' && Object.hasOwn(filters, name)),
    ),
  inOrder(z.object(filters)),
);

export type LibraryFilter = z.output<typeof libraryForm>;

/** The words of a search, without what is between them. */
export function wordsOf(given: string): readonly string[] {
  return given.match(/[\p{L}\p{N}]+/gu) ?? [];
}
