import type { GradeFigure } from '../../engineering/polymers/grade.js';

/** What each figure of a data sheet is called, in the order of a form. */
export const GRADE_FIGURE_WORDS: { readonly [figure in GradeFigure]: string } = {
  meltMinC: 'Melt, coldest',
  meltMaxC: 'Melt, hottest',
  mouldMinC: 'Mould, coldest',
  mouldMaxC: 'Mould, hottest',
  ejectionC: 'Ejection',
  dryingC: 'Drying at',
  dryingHours: 'Drying for',
  densityGPerCm3: 'Density',
  shrinkageMinPercent: 'Shrinkage, least',
  shrinkageMaxPercent: 'Shrinkage, most',
  residenceMin: 'Longest in the barrel',
  meltFlowGPer10Min: 'Melt flow by mass',
  meltFlowCm3Per10Min: 'Melt flow by volume',
  meltFlowC: 'Melt flow measured at',
  meltFlowKg: 'Melt flow under',
};

/** What the other cells of a grade's form are called. */
export const GRADE_CELL_WORDS = {
  name: 'Name of the grade',
  polymer: 'Polymer family',
  isPostConsumer: 'Post-consumer recyclate',
  isPostConsumerMore: 'A grade of its own, not regrind of another. Drying is unknown until it is said here.',
  isHalogenated: 'Holds a halogenated flame retardant',
  sheetTitle: 'Title of the maker’s data sheet',
  sheetDate: 'Its date',
  fillerPercent: 'Filler, by mass',
  note: 'Note',
  noteHint: 'Of recyclate: how it was washed, what metal and labels it may hold, which batch',
  why: 'Why it changes',
} as const;

export const GRADE_FORM_ERRORS = {
  name: 'Give the grade a name.',
  polymer: 'Choose one.',
  sheetTitle: 'Name the data sheet: without one there is nothing to go by.',
  sheetDate: 'Give the date that is printed on it.',
  figure: 'Give a number, or leave it empty where the sheet does not say.',
  why: 'Say why, for everybody to read in its history.',
} as const;

/** Said once after something was done. */
export const RESIN_DONE: { readonly [what: string]: { readonly word: string; readonly text: string } } = {
  'grade-added': { word: 'kept', text: 'The grade is added.' },
  'grade-revised': { word: 'kept', text: 'The new version is kept. Reports already made keep theirs.' },
};

export const RESIN_WORDS = {
  noDrying: 'no drying',
  notKnown: 'not known',
  melt: 'Melt',
  mould: 'Mould',
  drying: 'Drying',
  shrinkage: 'Shrinkage',
  pressure: 'Cavity pressure',
  family: 'Polymer family',
  sheet: 'Data sheet',
  kindLabel: 'Kind',
  note: 'Note',
  first: 'as it was added',
  kind: (grade: { isPostConsumer: boolean; isHalogenated: boolean; fillerPercent: number }) =>
    [
      grade.isPostConsumer ? 'post-consumer recyclate' : 'new material',
      ...(grade.fillerPercent > 0 ? [`${grade.fillerPercent} % filler`] : []),
      ...(grade.isHalogenated ? ['halogenated flame retardant: never after or before acetal'] : []),
    ].join(', '),
} as const;

/** "204 to 275 °C", or one figure where both ends are the same. */
export function bandText({ min, max }: { readonly min: number; readonly max: number }, unit: string): string {
  return min === max ? `${min} ${unit}` : `${min} to ${max} ${unit}`;
}

/** "dry 100 to 120 °C, 3 to 4 h" */
export function dryingShort({
  temperatureC,
  hours,
}: {
  readonly temperatureC: { readonly min: number; readonly max: number };
  readonly hours: { readonly min: number; readonly max: number };
}): string {
  return `dry ${bandText(temperatureC, '°C')}, ${bandText(hours, 'h')}`;
}
