import type { Band } from '../engineering/polymers/figures.js';
import { GRADE_BOUNDS, GRADE_FIGURES } from '../engineering/polymers/grade.js';
import { needsDrying } from '../engineering/polymers/needs-drying.js';
import { POLYMERS } from '../engineering/polymers/polymers.js';
import { BASIS_WORDS } from '../words/en/check-page.js';
import { bandText, dryingShort, GRADE_FIGURE_WORDS, RESIN_WORDS } from '../words/en/resin.js';
import { momentText } from '../words/en/times.js';
import type { KeptGrade } from './store.js';

/** A line of the table of families: each figure with where it comes from. */
export function familyRows() {
  return POLYMERS.map((polymer) => {
    const { temperatures, drying, shrinkagePercent } = polymer;
    return {
      id: `family-${polymer.symbol}`,
      symbol: polymer.symbol,
      name: polymer.name,
      melt: bandText(temperatures.meltC, '°C'),
      mould: bandText(temperatures.mouldC, '°C'),
      drying: drying === null || !needsDrying(polymer) ? RESIN_WORDS.noDrying : dryingShort(drying),
      shrinkage: shrinkagePercent === null ? RESIN_WORDS.notKnown : bandText(shrinkagePercent, '%'),
      sources: [
        sourced(RESIN_WORDS.melt, temperatures.meltC),
        sourced(RESIN_WORDS.mould, temperatures.mouldC),
        ...(drying === null ? [] : [sourced(RESIN_WORDS.drying, drying.hours)]),
        ...(shrinkagePercent === null ? [] : [sourced(RESIN_WORDS.shrinkage, shrinkagePercent)]),
        sourced(RESIN_WORDS.pressure, polymer.cavityPressureMpa),
      ],
    };
  });
}

function sourced(label: string, { source, basis }: Band) {
  const words: string = BASIS_WORDS[basis];
  return { label, value: source === words ? source : `${source} (${words})` };
}

/** A line of the table of grades. */
export function gradeRow(grade: KeptGrade) {
  return {
    id: grade.id,
    name: grade.name,
    polymer: grade.polymer,
    sheet: `${grade.sheetTitle}, ${grade.sheetDate}`,
    kind: RESIN_WORDS.kind(grade),
  };
}

/** What a grade's data sheet says, as facts. */
export function gradeFacts(grade: KeptGrade) {
  const figures = GRADE_FIGURES.flatMap((figure) => {
    const value = grade.figures[figure];
    return value === null
      ? []
      : [{ label: GRADE_FIGURE_WORDS[figure], value: `${value} ${GRADE_BOUNDS[figure].unit}` }];
  });
  return [
    { label: RESIN_WORDS.family, value: grade.polymer },
    { label: RESIN_WORDS.sheet, value: `${grade.sheetTitle}, ${grade.sheetDate}`, strong: true },
    { label: RESIN_WORDS.kindLabel, value: RESIN_WORDS.kind(grade) },
    ...figures,
    ...(grade.note === '' ? [] : [{ label: RESIN_WORDS.note, value: grade.note }]),
  ];
}

/** A line of a grade's history. */
export function versionRow(grade: KeptGrade, timeZone: string) {
  return {
    version: grade.version,
    when: momentText(grade.madeAt, timeZone),
    who: grade.madeByName,
    sheet: `${grade.sheetTitle}, ${grade.sheetDate}`,
    why: grade.why ?? RESIN_WORDS.first,
  };
}
