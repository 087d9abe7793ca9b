import type { Finding } from '../engineering/finding.js';
import { type CurveInput, curvePicture } from '../pictures/curve.js';
import type { SafeHtml } from '../pictures/safe-html.js';
import { WARMING_WORDS, warmingLabel } from '../words/en/warming-curve.js';

/** Ends of the time scale, minutes, each with the minutes between its ticks. */
const SCALES = [
  [30, 10],
  [60, 15],
  [120, 30],
  [180, 60],
  [240, 60],
  [360, 60],
] as const;

/** How a plate warms over a run, drawn from its finding; null where the finding has no curve. */
export function warmingCurve({ check, figures }: Finding): SafeHtml | null {
  const { curveMin: minutes, curvePlateC: plateC, curveOtherC: otherC } = figures;
  if (check !== 'plate-warming' || typeof minutes !== 'object' || typeof plateC !== 'object') return null;
  const number = (name: string) => (typeof figures[name] === 'number' ? (figures[name] as number) : null);
  const [ceilingC, skinC, roomC] = [number('ceilingC') ?? 0, number('skinC') ?? 0, number('roomC') ?? 0];
  const asked = [
    { x: number('skinMin'), y: skinC },
    { x: number('ceilingMin'), y: ceilingC },
  ].flatMap(({ x, y }) => (x === null ? [] : [{ x, y, words: WARMING_WORDS.minutesTo(x, y) }]));
  const longest = Math.max(number('runMin') ?? 0, ...asked.map(({ x }) => x * 1.4));
  const [toMin, everyMin] = SCALES.find(([end]) => longest > 0 && end >= longest) ?? [360, 60];
  const isChilled = figures.chiller === 'runs';
  const hottest = Math.max(ceilingC, skinC, ...plateC, ...(typeof otherC === 'object' ? otherC : []));
  const coldest = Math.min(roomC, ...plateC, ...(typeof otherC === 'object' ? otherC : []));
  const curve = (values: readonly number[]) => values.map((value, i) => [minutes[i] ?? 0, value] as const);
  const input: CurveInput = {
    label: warmingLabel(figures),
    curves: [
      {
        points: curve(plateC),
        name: typeof otherC === 'object' ? WARMING_WORDS.chiller(isChilled) : WARMING_WORDS.plate,
      },
      ...(typeof otherC === 'object'
        ? [{ points: curve(otherC), name: WARMING_WORDS.chiller(!isChilled), dashed: true }]
        : []),
    ],
    limits: [
      { y: ceilingC, name: WARMING_WORDS.ceiling(String(figures.polymer), ceilingC) },
      { y: skinC, name: WARMING_WORDS.skin(skinC) },
    ],
    asked,
    x: {
      to: toMin,
      ticks: Array.from({ length: toMin / everyMin + 1 }, (_, i) => ({
        at: i * everyMin,
        text: WARMING_WORDS.time(i * everyMin),
      })),
    },
    y: { from: Math.floor(coldest / 10) * 10, to: Math.ceil((hottest + 6) / 10) * 10, unit: '°C' },
  };
  return curvePicture(input);
}
