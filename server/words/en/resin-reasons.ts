import { GRADE_BOUNDS, GRADE_FIGURES } from '../../engineering/polymers/grade.js';
import type { HouseReasonCode, Reason } from '../../reasons.js';
import type { ReasonWords } from './drawing-reasons.js';
import { GRADE_FIGURE_WORDS } from './resin.js';

/** "Melt, coldest": the figure by its name. */
function named({ figures }: Reason): string {
  const figure = GRADE_FIGURES.find((one) => one === figures?.figure);
  if (figure !== undefined) return GRADE_FIGURE_WORDS[figure];
  return figures?.figure === 'fillerPercent' ? 'Filler' : 'A figure';
}

function unitOf({ figures }: Reason): string {
  const figure = GRADE_FIGURES.find((one) => one === figures?.figure);
  return figure === undefined ? '' : ` ${GRADE_BOUNDS[figure].unit}`;
}

/** ` 210 °C`, or nothing where it is not told. */
function heat({ figures }: Reason, name: string): string {
  const value = figures?.[name];
  return value === undefined ? '' : ` ${value} °C`;
}

/** Why a resin grade is not kept as somebody wants. */
export const RESIN_REASONS = {
  'grade-figure-absurd': (reason) => {
    const { value, least, most, unit = '' } = reason.figures ?? {};
    const is = value === undefined ? 'is out of range' : `${`${value} ${unit}`.trim()} cannot be`;
    const isBounded = least !== undefined && most !== undefined;
    const range = isBounded ? `${least} to ${`${most} ${unit}`.trim()}` : 'what its data sheet says';
    return { message: `${named(reason)}: ${is}.`, fix: `Give ${range}, or leave it empty.` };
  },
  'grade-figure-missing': (reason) => ({
    message: `${named(reason)} is missing: it belongs to figures that are given.`,
    fix: 'Melt, mould and ejection temperatures are given all together or not at all; so are both ends of a range, and the heat and hours of drying.',
  }),
  'grade-range-turned': (reason) => {
    const { least, most } = reason.figures ?? {};
    const ends = least === undefined || most === undefined ? '' : ` (${least} and ${most}${unitOf(reason)})`;
    return {
      message: `${named(reason)} is less than the lower end of its range${ends}.`,
      fix: 'Exchange the two.',
    };
  },
  'grade-mould-too-hot': (reason) => ({
    message: `A mould of${heat(reason, 'mouldC') || ' that heat'} is not cooler than the part at ejection${heat(reason, 'ejectionC')}: it would never set.`,
    fix: 'Give a mould temperature under the ejection temperature, as the data sheet has them together.',
  }),
  'grade-ejected-soft': (reason) => ({
    message: `At ejection${heat(reason, 'ejectionC')} this polymer still flows${heat(reason, 'noFlowC') && ` (until${heat(reason, 'noFlowC')})`}.`,
    fix: 'Give the temperature at which the part can be taken out; near the heat deflection temperature.',
  }),
  'grade-melt-too-cold': (reason) => ({
    message: `Melt of${heat(reason, 'meltC') || ' that heat'} does not flow${heat(reason, 'noFlowC') && `: this polymer flows above${heat(reason, 'noFlowC')}`}.`,
    fix: 'Look at the data sheet again, and whether the polymer is the right one.',
  }),
  'grade-melt-too-hot': (reason) => ({
    message: `Melt of${heat(reason, 'meltC') || ' that heat'} is too hot for this polymer${heat(reason, 'limitC') && `: never${heat(reason, 'limitC')} or more`}. It breaks down, with gas and pressure in the barrel.`,
    fix: 'Look at the data sheet again, and whether the polymer is the right one.',
  }),
  'grade-sheet-to-come': () => ({
    message: 'The data sheet’s date is still to come.',
    fix: 'Give the date that is printed on it.',
  }),
  'recyclate-says-nothing': () => ({
    message: 'Nothing is said about the recyclate.',
    fix: 'Say how it was washed, what metal and labels it may hold, and which batch it is.',
  }),
  'grade-name-taken': (reason) => ({
    message: `Another grade is called ${reason.figures?.name ?? 'so'} already.`,
    fix: 'Give it a name that can be told apart on the sacks, or make a version of that grade.',
  }),
} as const satisfies { readonly [code in HouseReasonCode]?: (reason: Reason) => ReasonWords };
