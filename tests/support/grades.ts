import { GRADE_FIGURES, type GradeFigures } from '../../server/engineering/polymers/grade.js';

/** A data sheet that says nothing. */
export const NO_FIGURES = Object.fromEntries(GRADE_FIGURES.map((figure) => [figure, null])) as {
  readonly [figure in keyof GradeFigures]: null;
};
