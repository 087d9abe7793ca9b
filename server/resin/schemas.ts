import { z } from 'zod';
import { GRADE_BOUNDS, GRADE_FIGURES, type GradeFigure } from '../engineering/polymers/grade.js';
import { pageOf } from '../http/cursor.js';
import { id } from '../http/id.js';
import { instant } from '../http/instant.js';
import { text } from '../http/text.js';
import { GRADE_FIGURE_WORDS } from '../words/en/resin.js';

/** Figures as they come in; whether they can be is for the command, which says what could. */
const figures = z.strictObject(
  Object.fromEntries(
    GRADE_FIGURES.map((figure) => {
      const { least, most, unit } = GRADE_BOUNDS[figure];
      const description = `${GRADE_FIGURE_WORDS[figure]}, ${least} to ${most} ${unit}; null: the sheet does not say.`;
      return [figure, z.number().nullable().default(null).meta({ description })];
    }),
  ) as { readonly [figure in GradeFigure]: z.ZodDefault<z.ZodNullable<z.ZodNumber>> },
);

const sheet = {
  sheetTitle: text(200).meta({ description: 'Title of the maker’s data sheet.' }),
  sheetDate: z.iso.date().meta({ description: 'Its date.' }),
  isHalogenated: z
    .boolean()
    .default(false)
    .meta({ description: 'With a halogenated flame retardant: never in one barrel with acetal.' }),
  fillerPercent: z.number().default(0).meta({ description: 'Glass, mineral and the like, by mass.' }),
  figures: figures.default(figures.parse({})),
  note: z
    .union([z.literal(''), text(1000)])
    .default('')
    .meta({
      description: 'Of recyclate: how it was washed, what metal and labels it may hold, which batch.',
    }),
};

export const gradeBody = z.strictObject({
  name: text(80),
  polymer: z.string().trim().min(1).max(20).meta({ description: 'Symbol of its family, for instance PP.' }),
  isPostConsumer: z
    .boolean()
    .default(false)
    .meta({ description: 'Post-consumer recyclate: a grade of its own.' }),
  ...sheet,
});

export const gradeVersionBody = z.strictObject({
  basedOn: z
    .int()
    .meta({ description: 'The version it was changed from; refused when it is no longer the latest.' }),
  why: text(200),
  ...sheet,
});

export const gradeReply = z
  .object({
    id,
    name: z.string(),
    polymer: z.string(),
    isPostConsumer: z.boolean(),
    version: z.int(),
    sheetTitle: z.string(),
    sheetDate: z.string(),
    isHalogenated: z.boolean(),
    fillerPercent: z.number(),
    figures,
    note: z.string(),
    why: z.string().nullable().meta({ description: 'Null for the first version.' }),
    madeBy: z.string(),
    madeAt: instant,
  })
  .meta({ id: 'ResinGrade', description: 'A polymer family as a maker’s data sheet has it.' });

export const gradesReply = pageOf(gradeReply);
export const gradeVersionsReply = z.object({ items: z.array(gradeReply), next: z.null() });
