import { horizontalDimension } from './dimension.js';
import type { SafeHtml } from './safe-html.js';
import { fixed, line, path, svg, text } from './svg.js';

/** One curve: its points in the picture's own figures, the first first. */
export interface Curve {
  readonly points: readonly (readonly [x: number, y: number])[];
  /** Stands at its end. */
  readonly name: string;
  /** What could be instead, or is foreseen. */
  readonly dashed?: boolean;
}

export interface CurveInput {
  /** All that it shows, in words. */
  readonly label: string;
  /** The first one is washed below. */
  readonly curves: readonly Curve[];
  /** Values not to be passed, with their names. */
  readonly limits: readonly { readonly y: number; readonly name: string }[];
  /** What is asked: from nought to here, with the words of its dimension line. At most two. */
  readonly asked: readonly { readonly x: number; readonly y: number; readonly words: string }[];
  readonly x: {
    readonly to: number;
    readonly ticks: readonly { readonly at: number; readonly text: string }[];
  };
  readonly y: { readonly from: number; readonly to: number; readonly unit: string };
}

const LETTERS = 13;
const WIDTH = 360;
const LEFT = 30;
const RIGHT = 356;
const TOP = 20;
const FLOOR = 164;
/** Dimension lines stand under the ticks, one row each. */
const ROW = 20;
/** Names nearer to one another than this would run together. */
const APART = 16;
const GRID_LINES_MOST = 4;

/** Curves over a scale, with their limits and what is asked of them as dimension lines. */
export function curvePicture(input: CurveInput): SafeHtml {
  const { curves, limits, asked, label } = input;
  const x = (value: number) => LEFT + ((RIGHT - LEFT) * Math.min(value, input.x.to)) / input.x.to;
  const y = (value: number) => FLOOR - ((FLOOR - TOP) * (value - input.y.from)) / (input.y.to - input.y.from);
  const drawn = curves.map((curve) => ({ ...curve, at: pathOf(curve.points, input.x.to, x, y) }));
  const height = FLOOR + 26 + ROW * asked.length;
  return svg(
    {
      frame: { x: 0, y: 0, width: WIDTH, height },
      className: 'ps-picture ps-curve-picture',
      label,
      letterHeight: LETTERS,
    },
    washOf(drawn[0]?.at) +
      gridOf(input.y, y) +
      ticksOf(input.x.ticks, x) +
      limitsOf(limits, y) +
      drawn
        .map(({ at, dashed }) => path(dashed ? 'ps-curve ps-curve--dashed' : 'ps-curve', `M${at.join('L')}`))
        .join('') +
      namesOf(
        drawn.map(({ name, points }) => ({ name, y: y(valueAt(points, input.x.to)) })),
        limits.map((limit) => y(limit.y)),
      ) +
      askedOf(asked, x, y),
  );
}

type Scale = (value: number) => number;

/** "x y" of each point up to the picture's end, the last one on it. */
function pathOf(points: Curve['points'], to: number, x: Scale, y: Scale): readonly string[] {
  const within = points.filter(([at]) => at < to);
  return [...within, [to, valueAt(points, to)] as const].map(([px, py]) => `${fixed(x(px))} ${fixed(y(py))}`);
}

/** A curve's value, between points along a straight line; its last one beyond them. */
function valueAt(points: Curve['points'], at: number): number {
  const next = points.findIndex(([x]) => x >= at);
  const [x2, y2] = points[next] ?? points.at(-1) ?? [0, 0];
  const [x1, y1] = points[next - 1] ?? [x2, y2];
  return x2 === x1 ? y2 : y1 + ((y2 - y1) * (at - x1)) / (x2 - x1);
}

function washOf(at: readonly string[] | undefined): string {
  return at === undefined
    ? ''
    : path('ps-curve-wash', `M${LEFT} ${FLOOR}L${at.join('L')}L${RIGHT} ${FLOOR}z`);
}

function gridOf({ from, to, unit }: CurveInput['y'], y: Scale): string {
  const step =
    [5, 10, 20, 25, 50, 100, 200, 500].find((one) => (to - from) / one <= GRID_LINES_MOST) ?? to - from;
  let drawn = text('ps-soft-text', LEFT - 4, TOP - 8, unit, 'end');
  for (let value = Math.ceil(from / step) * step; value <= to; value += step) {
    if (value > from) drawn += line('ps-curve-grid', LEFT, y(value), RIGHT, y(value));
    drawn += text('ps-soft-text', LEFT - 4, y(value) + 0.36 * LETTERS, String(value), 'end');
  }
  return drawn;
}

function ticksOf(ticks: CurveInput['x']['ticks'], x: Scale): string {
  return (
    line('ps-line', LEFT, FLOOR, RIGHT, FLOOR) +
    ticks
      .map(({ at, text: words }, i) => {
        const anchor = i === ticks.length - 1 ? 'end' : 'middle';
        return (
          line('ps-thin', x(at), FLOOR, x(at), FLOOR + 5) +
          text('ps-soft-text', x(at), FLOOR + 18, words, anchor)
        );
      })
      .join('')
  );
}

/** Names stand at the left, where a curve that begins low leaves room; where two lines are near, one above, one below. */
function limitsOf(limits: CurveInput['limits'], y: Scale): string {
  const lowestFirst = limits.toSorted((a, b) => a.y - b.y);
  return lowestFirst
    .map(({ y: value, name }, i) => {
      const at = y(value);
      const above = lowestFirst[i + 1];
      const isBelow = above !== undefined && at - y(above.y) < APART;
      return (
        line('ps-limit', LEFT, at, RIGHT, at) +
        text('ps-dim-text', LEFT + 6, isBelow ? at + 0.95 * LETTERS : at - 0.35 * LETTERS, name, 'start')
      );
    })
    .join('');
}

/** A curve's name stands above its end, or below it where a limit or another curve's name is in the way. */
function namesOf(
  ends: readonly { readonly name: string; readonly y: number }[],
  limits: readonly number[],
): string {
  const highestFirst = ends.toSorted((a, b) => a.y - b.y);
  return highestFirst
    .map(({ name, y }, i) => {
      const inTheWay = [...limits, ...(i > 0 ? [(highestFirst[i - 1] as { y: number }).y] : [])];
      const isBelow = inTheWay.some((other) => y - other > -2 && y - other < 1.4 * APART);
      return text('ps-dim-text', RIGHT - 2, isBelow ? y + 1.1 * LETTERS : y - 0.45 * LETTERS, name, 'end');
    })
    .join('');
}

function askedOf(asked: CurveInput['asked'], x: Scale, y: Scale): string {
  return asked
    .map((one, row) => {
      const at = FLOOR + 30 + ROW * row;
      const isRight = x(one.x) > (LEFT + RIGHT) / 2;
      return (
        line('ps-centre-line', x(one.x), y(one.y), x(one.x), FLOOR) +
        horizontalDimension(x(0), x(one.x), at, FLOOR, one.words, {
          letterHeight: LETTERS,
          outside: isRight ? 'before' : 'after',
        })
      );
    })
    .join('');
}
