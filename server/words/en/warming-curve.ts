import type { Figures } from '../../engineering/finding.js';
import { numberText } from './numbers.js';

/** What stands at the curve of a warming plate. */
export const WARMING_WORDS = {
  plate: 'plate',
  chiller: (runs: boolean) => (runs ? 'with the chiller' : 'without a chiller'),
  ceiling: (polymer: string, celsius: number) =>
    `${polymer} comes off sound up to ${numberText(celsius, 0)} °C`,
  skin: (celsius: number) => `burns at a touch of 1 s from ${numberText(celsius, 0)} °C`,
  minutesTo: (minutes: number, celsius: number) =>
    `${numberText(minutes, 0)} min to ${numberText(celsius, 0)} °C`,
  time: (minutes: number) => (minutes % 60 === 0 ? `${minutes / 60} h` : `${minutes} min`),
} as const;

/** The picture in a sentence: where the curve begins, where it is after each hour it shows, and where it settles. */
export function warmingLabel(figures: Figures): string {
  const { curveMin, curvePlateC, curveOtherC, roomC, steadyC, chiller } = figures;
  const way = WARMING_WORDS.chiller(chiller === 'runs');
  const other = WARMING_WORDS.chiller(chiller !== 'runs');
  const ends =
    typeof curveOtherC === 'object'
      ? ` The other curve, ${other}, ends at ${numberText(curveOtherC.at(-1) ?? 0, 0)} °C.`
      : '';
  return `The plate’s temperature over a run ${way}: from ${numberText(Number(roomC), 0)} °C, ${afterHour(curveMin, curvePlateC)}settling at ${numberText(Number(steadyC), 0)} °C.${ends}`;
}

function afterHour(minutes: Figures[string] | undefined, celsius: Figures[string] | undefined): string {
  if (typeof minutes !== 'object' || typeof celsius !== 'object') return '';
  const value = celsius[minutes.findIndex((at) => at >= 60)];
  return value === undefined ? '' : `${numberText(value, 0)} °C after an hour, `;
}
