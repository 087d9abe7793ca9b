import { z } from 'zod';
import { GRADE_BOUNDS, GRADE_FIGURES, type GradeFigure } from '../engineering/polymers/grade.js';
import { POLYMERS } from '../engineering/polymers/polymers.js';
import type { FieldErrors } from '../http/form.js';
import { text } from '../http/text.js';
import { GRADE_CELL_WORDS, GRADE_FIGURE_WORDS, GRADE_FORM_ERRORS as WRONG } from '../words/en/resin.js';
import type { GradeSheet, KeptGrade } from './store.js';

const NUMBER = /^\d+(?:[.,]\d+)?$/;

/** Empty: the sheet does not say. Whether the figure can be is for the command. */
const figure = z
  .string(WRONG.figure)
  .trim()
  .refine((given) => given === '' || NUMBER.test(given), WRONG.figure)
  .transform((given) => (given === '' ? null : Number(given.replace(',', '.'))));

const tick = z.literal('yes').optional().catch(undefined);
const words = (max: number, message: string) =>
  z.string(message).pipe(z.string().trim().min(1, message)).pipe(text(max));

const sheetFields = {
  sheetTitle: words(200, WRONG.sheetTitle),
  sheetDate: z.iso.date(WRONG.sheetDate),
  isHalogenated: tick,
  fillerPercent: figure,
  ...(Object.fromEntries(GRADE_FIGURES.map((name) => [name, figure])) as {
    readonly [name in GradeFigure]: typeof figure;
  }),
  note: z.union([z.literal(''), text(1000)]).default(''),
};

export const newGradeForm = z.object({
  name: words(80, WRONG.name),
  polymer: z.enum(POLYMERS.map(({ symbol }) => symbol) as [string, ...string[]], WRONG.polymer),
  isPostConsumer: tick,
  ...sheetFields,
});

export const gradeVersionForm = z.object({
  why: words(200, WRONG.why),
  basedOn: z.coerce.number().int().min(1).max(2_000_000_000),
  ...sheetFields,
});

/** What a form says of the data sheet. */
export function sheetOfForm(form: Omit<z.output<typeof gradeVersionForm>, 'why' | 'basedOn'>): GradeSheet {
  const figures = Object.fromEntries(GRADE_FIGURES.map((name) => [name, form[name]])) as {
    readonly [name in GradeFigure]: number | null;
  };
  const { sheetTitle, sheetDate, note } = form;
  return {
    ...{ sheetTitle, sheetDate, note, figures },
    isHalogenated: form.isHalogenated === 'yes',
    fillerPercent: form.fillerPercent ?? 0,
  };
}

/** A grade as the fields of a form. */
export function fieldsOfGrade(grade: KeptGrade): FieldErrors {
  return {
    sheetTitle: grade.sheetTitle,
    sheetDate: grade.sheetDate,
    isHalogenated: grade.isHalogenated ? 'yes' : '',
    fillerPercent: grade.fillerPercent === 0 ? '' : String(grade.fillerPercent),
    ...Object.fromEntries(GRADE_FIGURES.map((name) => [name, String(grade.figures[name] ?? '')])),
    note: grade.note,
    basedOn: String(grade.version),
  };
}

/** Names over the fields, for the summary of what is wrong. */
export const GRADE_LABELS: FieldErrors = { ...GRADE_CELL_WORDS, ...GRADE_FIGURE_WORDS };

/** The cells of the data sheet, as templates/partials/cell.hbs takes them. */
export function sheetCells(given: FieldErrors, errors: FieldErrors) {
  const cell = (name: string, more: object) => ({
    name,
    value: given[name] ?? '',
    error: errors[name],
    ...more,
  });
  return {
    sheet: [
      cell('sheetTitle', {
        label: GRADE_CELL_WORDS.sheetTitle,
        size: 'wide',
        maxLength: 200,
        required: true,
      }),
      cell('sheetDate', { label: GRADE_CELL_WORDS.sheetDate, type: 'date', required: true }),
      cell('fillerPercent', { label: GRADE_CELL_WORDS.fillerPercent, unit: '%', inputMode: 'decimal' }),
    ],
    figures: GRADE_FIGURES.map((name) =>
      cell(name, { label: GRADE_FIGURE_WORDS[name], unit: GRADE_BOUNDS[name].unit, inputMode: 'decimal' }),
    ),
    note: cell('note', {
      label: GRADE_CELL_WORDS.note,
      hint: GRADE_CELL_WORDS.noteHint,
      ...{ rows: 3, size: 'full', maxLength: 1000 },
    }),
  };
}
