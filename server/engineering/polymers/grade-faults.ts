import { firstIncoherence } from './coherence.js';
import { GRADE_BOUNDS, GRADE_FIGURES, type Grade, type GradeFigure, polymerOfGrade } from './grade.js';
import type { Polymer } from './polymer.js';

/** Figures that mean something only together. */
const TOGETHER: readonly (readonly GradeFigure[])[] = [
  ['meltMinC', 'meltMaxC', 'mouldMinC', 'mouldMaxC', 'ejectionC'],
  ['shrinkageMinPercent', 'shrinkageMaxPercent'],
];

/** Lower and upper end of a range. */
const RANGES: readonly (readonly [GradeFigure, GradeFigure])[] = [
  ['meltMinC', 'meltMaxC'],
  ['mouldMinC', 'mouldMaxC'],
  ['shrinkageMinPercent', 'shrinkageMaxPercent'],
];

/** A figure of a grade that cannot be, and what can. */
export interface GradeFault {
  readonly code:
    | 'out-of-range'
    | 'missing'
    | 'turned'
    | 'filler'
    | 'mould-too-hot'
    | 'still-flows'
    | 'melt-too-cold'
    | 'melt-too-hot';
  readonly figure: GradeFigure | 'fillerPercent';
  readonly figures: { readonly [name: string]: number | string };
}

/** Fillers at most, percent by mass. Common practice, no source. */
const FILLER_MOST_PERCENT = 70;

/** Everything about a grade that cannot be physically, each with the figure it is about; empty for one that can. */
export function gradeFaults(family: Polymer, grade: Grade): readonly GradeFault[] {
  const single = [...outOfRange(grade), ...missing(grade), ...turned(grade), ...filler(grade)];
  return single.length > 0 ? single : incoherent(family, grade);
}

function outOfRange({ figures }: Grade): readonly GradeFault[] {
  return GRADE_FIGURES.flatMap((figure): readonly GradeFault[] => {
    const value = figures[figure];
    const { least, most, unit } = GRADE_BOUNDS[figure];
    if (value === null || (least <= value && value <= most)) return [];
    return [{ code: 'out-of-range', figure, figures: { value, least, most, unit } }];
  });
}

function missing({ figures }: Grade): readonly GradeFault[] {
  const groups = [...TOGETHER, ...(figures.dryingHours !== null && figures.dryingHours > 0 ? [DRYING] : [])];
  return groups.flatMap((group) => {
    if (group.every((figure) => figures[figure] === null)) return [];
    return group
      .filter((figure) => figures[figure] === null)
      .map((figure): GradeFault => ({ code: 'missing', figure, figures: {} }));
  });
}

const DRYING: readonly GradeFigure[] = ['dryingC', 'dryingHours'];

function turned({ figures }: Grade): readonly GradeFault[] {
  return RANGES.flatMap(([low, high]): readonly GradeFault[] => {
    const [least, most] = [figures[low], figures[high]];
    if (least === null || most === null || least <= most) return [];
    return [{ code: 'turned', figure: high, figures: { least, most } }];
  });
}

function filler({ fillerPercent }: Grade): readonly GradeFault[] {
  if (0 <= fillerPercent && fillerPercent <= FILLER_MOST_PERCENT) return [];
  const figures = { value: fillerPercent, least: 0, most: FILLER_MOST_PERCENT, unit: '%' };
  return [{ code: 'filler', figure: 'fillerPercent', figures }];
}

const OF_SET = {
  'mould-over-ejection': { code: 'mould-too-hot', figure: 'mouldMaxC' },
  'ejection-over-no-flow': { code: 'still-flows', figure: 'ejectionC' },
  'melt-below-no-flow': { code: 'melt-too-cold', figure: 'meltMinC' },
  'over-melt-limit': { code: 'melt-too-hot', figure: 'meltMaxC' },
} as const;

function incoherent(family: Polymer, grade: Grade): readonly GradeFault[] {
  const wrong = firstIncoherence(polymerOfGrade(family, grade));
  if (wrong === null || wrong.code === 'band-turned') return [];
  return [{ ...OF_SET[wrong.code], figures: { polymer: family.symbol, ...wrong.figures } }];
}
