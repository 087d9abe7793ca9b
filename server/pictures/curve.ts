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
const ROW = 24;
/** Names nearer to one another than this would run together. */
const APART = 16;
const GRID_LINES_MOST = 4;
/** A name takes about this share of the width. */
const NAMES_REACH = 0.62;
/** Mean width of a letter as a share of its height. */
const LETTER_WIDTH = 0.56;

/** Curves over a scale, with their limits and what is asked of them as dimension lines. */
export function curvePicture(input: CurveInput): SafeHtml {
  const { curves, limits, asked, label } = input;
  const x = (value: number) => LEFT + ((RIGHT - LEFT) * Math.min(value, input.x.to)) / input.x.to;
  const y = (value: number) => FLOOR - ((FLOOR - TOP) * (value - input.y.from)) / (input.y.to - input.y.from);
  const drawn = curves.map((curve) => ({ ...curve, at: pathOf(curve.points, input.x.to, x, y) }));
  const height = FLOOR + 24 + (asked.length === 0 ? 0 : 16 + ROW * (asked.length - 1));
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
      (curves[0] ? limitsOf(limits, curves[0], input.x.to, y) : '') +
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
        const anchor = i === 0 ? 'start' : i === ticks.length - 1 ? 'end' : 'middle';
        return (
          line('ps-thin', x(at), FLOOR, x(at), FLOOR + 5) +
          text('ps-soft-text', i === 0 ? LEFT + 4 : x(at), FLOOR + 18, words, anchor)
        );
      })
      .join('')
  );
}

/**
 * A limit's name stands where the first curve is not: at the left above its line, and at the right below it where it is
 * passed early. Where two are near on one side, one stands above its line, one below.
 */
function limitsOf(limits: CurveInput['limits'], { points }: Curve, to: number, y: Scale): string {
  const lowestFirst = limits
    .map((limit) => ({ ...limit, at: y(limit.y), isRight: valueAt(points, to * NAMES_REACH) > limit.y }))
    .toSorted((a, b) => a.y - b.y);
  return lowestFirst
    .map(({ name, at, isRight }, i) => {
      const above = lowestFirst[i + 1];
      const isNear = above !== undefined && above.isRight === isRight && at - above.at < APART;
      const below = lowestFirst[i - 1];
      const isOverNear = below !== undefined && below.isRight === isRight && below.at - at < APART;
      const isBelow = isRight ? !isOverNear : isNear;
      const textY = isBelow ? at + 0.95 * LETTERS : at - 0.35 * LETTERS;
      return (
        line('ps-limit', LEFT, at, RIGHT, at) +
        (isRight
          ? text('ps-dim-text', RIGHT - 2, textY, name, 'end')
          : text('ps-dim-text', LEFT + 6, textY, name, 'start'))
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

/** The longest row comes first, so that the words after a shorter one stand clear of its extension lines. */
function askedOf(asked: CurveInput['asked'], x: Scale, y: Scale): string {
  return asked
    .toSorted((a, b) => b.x - a.x)
    .map(({ x: value, y: limit, words }, row) => {
      const at = FLOOR + 32 + ROW * row;
      const end = x(value);
      const fitsAfter = end + 6 + words.length * LETTER_WIDTH * LETTERS < RIGHT;
      return (
        line('ps-centre-line', end, y(limit), end, FLOOR) +
        horizontalDimension(LEFT, end, at, FLOOR, '', { letterHeight: LETTERS }) +
        (fitsAfter
          ? text('ps-dim-text', end + 6, at + 0.36 * LETTERS, words, 'start')
          : text('ps-dim-text', end - 6, at - 0.3 * LETTERS, words, 'end'))
      );
    })
    .join('');
}
