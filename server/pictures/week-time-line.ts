import { horizontalDimension } from './dimension.js';
import { hatch } from './hatch.js';
import { phasePatterns } from './phase-patterns.js';
import type { SafeHtml } from './safe-html.js';
import { type Box, fits, slotBalloon, spanLabel, spanShape } from './span-drawing.js';
import { element, fixed, line, path, svg, text } from './svg.js';
import { closedStretches, hourName, type TimeDay, type TimeLane, type TimeSpan } from './time-line.js';

export interface WeekInput {
  /** Makes ids of this picture its own. */
  readonly prefix: string;
  readonly label: string;
  readonly fromMinute: number;
  readonly toMinute: number;
  readonly days: readonly TimeDay[];
}

const WIDTH = 1060;
const LEFT = 132;
const RIGHT = 12;
const SCALE_HEIGHT = 40;
const LETTERS = 13;
const CLOSED_DAY_HEIGHT = 44;
const DAY_PADDING = { top: 6, bottom: 6 };
const LANE_GAP = 6;
/** Room above a lane for the dimension of a picked span. */
const DIMENSION_ROOM = 22;

/** A week as one band a day, time to the right, under a steel rule. Cheap: strings put together, nothing measured. */
export function weekTimeLine(input: WeekInput): SafeHtml {
  const { fromMinute, toMinute } = input;
  const perMinute = (WIDTH - LEFT - RIGHT) / (toMinute - fromMinute);
  const x = (minute: number) =>
    LEFT + (Math.min(Math.max(minute, fromMinute), toMinute) - fromMinute) * perMinute;
  let y = SCALE_HEIGHT;
  let bands = '';
  for (const day of input.days) {
    const height = heightOf(day);
    bands += band(input, day, y, height, x);
    y += height;
  }
  return svg(
    {
      frame: { x: 0, y: 0, width: WIDTH, height: y + 1 },
      className: 'ps-timeline ps-week',
      label: input.label,
      letterHeight: LETTERS,
    },
    phasePatterns(input.prefix) + rule(fromMinute, toMinute, x) + bands + line('ps-day-line', 0, y, WIDTH, y),
  );
}

/** The steel rule: a tick every ten minutes, longer at the half hour, longest and named at the hour. */
function rule(fromMinute: number, toMinute: number, x: (minute: number) => number): string {
  const foot = SCALE_HEIGHT - 10;
  let ticks = '';
  let names = '';
  for (let minute = fromMinute; minute <= toMinute; minute += 10) {
    ticks += `M${fixed(x(minute))} ${foot}v-${tickLength(minute)}`;
    if (minute % 60 === 0) names += text('ps-scale-text', x(minute), 13, hourName(minute));
  }
  return path('ps-tick', `M${x(fromMinute)} ${foot}H${x(toMinute)}${ticks}`) + names;
}

export function tickLength(minute: number): number {
  if (minute % 60 === 0) return 12;
  return minute % 30 === 0 ? 8 : 4;
}

function heightOf(day: TimeDay): number {
  if (day.open === null) return CLOSED_DAY_HEIGHT;
  return day.lanes.reduce(
    (sum, lane) => sum + laneRoom(lane) + lane.heightPx + LANE_GAP,
    DAY_PADDING.top + DAY_PADDING.bottom - LANE_GAP,
  );
}

function laneRoom(lane: TimeLane): number {
  return lane.spans.some((span) => span.dimension) ? DIMENSION_ROOM : 0;
}

function band(
  { prefix, fromMinute, toMinute }: WeekInput,
  day: TimeDay,
  top: number,
  height: number,
  x: (minute: number) => number,
): string {
  const head =
    line('ps-day-line', 0, top, WIDTH, top) +
    text('ps-day-text', 0, top + 19, day.name, 'start') +
    (day.note === undefined ? '' : text('ps-soft-text', 0, top + 36, day.note, 'start'));
  const closed = closedStretches(day, fromMinute, toMinute)
    .map(([from, to]) => hatch(x(from), top + 5, x(to), top + height - 5, 12))
    .join('');
  if (day.open === null)
    return (
      head +
      path('ps-hatch', closed) +
      closedWords(day.closedWords, top + height / 2, x(fromMinute), x(toMinute))
    );
  let y = top + DAY_PADDING.top;
  let shapes = '';
  let words = '';
  for (const lane of day.lanes) {
    y += laneRoom(lane);
    shapes += laneShapes(prefix, lane, y, x);
    words += laneWords(lane, y, x);
    y += lane.heightPx + LANE_GAP;
  }
  return (
    head +
    hourGrid(fromMinute, toMinute, top, height, x) +
    path('ps-hatch', closed) +
    shapes +
    now(day, top, height, x) +
    words
  );
}

function hourGrid(
  fromMinute: number,
  toMinute: number,
  top: number,
  height: number,
  x: (minute: number) => number,
): string {
  let data = '';
  for (let minute = Math.ceil(fromMinute / 60) * 60; minute <= toMinute; minute += 60)
    data += `M${fixed(x(minute))} ${fixed(top + 5)}v${fixed(height - 10)}`;
  return path('ps-grid', data);
}

function closedWords(words: string, middle: number, from: number, to: number): string {
  const at = (from + to) / 2;
  const half = words.length * 4 + 8;
  return (
    element('rect', { class: 'ps-sheet-ground', x: at - half, y: middle - 10, width: 2 * half, height: 20 }) +
    text('ps-span-text', at, middle + 4.6, words)
  );
}

/** A span's box on its lane; null where nothing of it is in view. */
function boxOf(lane: TimeLane, span: TimeSpan, y: number, x: (minute: number) => number): Box | null {
  const from = x(span.startMinute);
  const width = x(span.endMinute) - from;
  return width > 0 ? { x: from, y, width, height: lane.heightPx } : null;
}

function laneShapes(prefix: string, lane: TimeLane, y: number, x: (minute: number) => number): string {
  return lane.spans
    .map((span) => {
      const at = boxOf(lane, span, y, x);
      return at ? spanShape(prefix, span, at, 'x') : '';
    })
    .join('');
}

function laneWords(lane: TimeLane, y: number, x: (minute: number) => number): string {
  const name = text('ps-soft-text', LEFT - 8, y + lane.heightPx / 2 + 4.6, lane.lane, 'end');
  return name + lane.spans.map((span) => spanWords(lane, span, y, x)).join('');
}

function spanWords(lane: TimeLane, span: TimeSpan, y: number, x: (minute: number) => number): string {
  const at = boxOf(lane, span, y, x);
  if (!at) return '';
  const middle = y + lane.heightPx / 2;
  const { balloon, dimension } = span;
  return (
    (span.kind === 'out-of-service' ? reasonAfter(span, at.x + at.width, middle) : spanLabel(span, at)) +
    (balloon === undefined || at.width < 30 ? '' : slotBalloon(balloon, at.x + at.width - 18, middle)) +
    (dimension
      ? horizontalDimension(x(dimension.startMinute), x(dimension.endMinute), y - 6, y, dimension.words, {
          letterHeight: LETTERS,
        })
      : '')
  );
}

/** Why something is out of service stands after its crossed box. */
function reasonAfter(span: TimeSpan, end: number, middle: number): string {
  if (!fits(span.label, WIDTH - end)) return '';
  return text('ps-soft-text', end + 7, middle + 4.6, span.label, 'start');
}

/** The present: a line through the day and a small triangle at its head. */
function now(day: TimeDay, top: number, height: number, x: (minute: number) => number): string {
  if (day.nowMinute === undefined) return '';
  const at = x(day.nowMinute);
  return (
    line('ps-now', at, top, at, top + height) +
    path('ps-now-mark', `M${fixed(at - 5)} ${fixed(top - 7)}h10L${fixed(at)} ${fixed(top)}z`)
  );
}
