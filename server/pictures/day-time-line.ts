import { hatch } from './hatch.js';
import { phasePatterns } from './phase-patterns.js';
import type { SafeHtml } from './safe-html.js';
import { type Box, fits, slotBalloon, spanShape } from './span-drawing.js';
import { fixed, line, path, svg, text } from './svg.js';
import { closedStretches, hourName, type TimeDay, type TimeLane, type TimeSpan } from './time-line.js';
import { tickLength } from './week-time-line.js';

export interface DayInput {
  /** Makes ids of this picture its own. */
  readonly prefix: string;
  readonly label: string;
  readonly fromMinute: number;
  readonly toMinute: number;
  readonly day: TimeDay;
}

const WIDTH = 358;
const LEFT = 52;
const TOP = 28;
const PX_PER_HOUR = 52;
const LANE_GAP = 6;
const LETTERS = 13;
/** The first lane, the press, is this many times as wide as each other. */
const FIRST_LANE_SHARE = 2.6;

/** One day as a column for the phone, time running down, the first lane wide enough to name phases. */
export function dayTimeLine(input: DayInput): SafeHtml {
  const { day, fromMinute, toMinute, prefix } = input;
  const bottom = TOP + ((toMinute - fromMinute) / 60) * PX_PER_HOUR;
  const y = (minute: number) =>
    TOP + ((Math.min(Math.max(minute, fromMinute), toMinute) - fromMinute) / 60) * PX_PER_HOUR;
  const closed = closedStretches(day, fromMinute, toMinute)
    .map(([from, to]) => hatch(LEFT, y(from), WIDTH, y(to), 14))
    .join('');
  const drawn = lanes(prefix, day.lanes, y);
  return svg(
    {
      frame: { x: 0, y: 0, width: WIDTH, height: bottom + 10 },
      className: 'ps-timeline ps-day',
      label: input.label,
      letterHeight: LETTERS,
    },
    phasePatterns(prefix) +
      rule(fromMinute, toMinute, y) +
      path('ps-hatch', closed) +
      (day.open === null
        ? text('ps-span-text', (LEFT + WIDTH) / 2, (TOP + bottom) / 2, day.closedWords)
        : '') +
      drawn.shapes +
      now(day, y) +
      drawn.words,
  );
}

function rule(fromMinute: number, toMinute: number, y: (minute: number) => number): string {
  const edge = LEFT - 8;
  let ticks = '';
  let grid = '';
  let names = '';
  for (let minute = fromMinute; minute <= toMinute; minute += 10) {
    ticks += `M${edge} ${fixed(y(minute))}h-${tickLength(minute)}`;
    if (minute % 60 !== 0) continue;
    grid += `M${LEFT} ${fixed(y(minute))}H${WIDTH}`;
    names += text('ps-scale-text', LEFT - 26, y(minute) + 4.6, hourName(minute), 'end');
  }
  return (
    path('ps-grid', grid) +
    path('ps-tick', `M${edge} ${fixed(y(fromMinute))}V${fixed(y(toMinute))}${ticks}`) +
    names
  );
}

/** Lanes side by side, the first the widest. Shapes and words apart, so that the present lies between them. */
function lanes(
  prefix: string,
  given: readonly TimeLane[],
  y: (minute: number) => number,
): { shapes: string; words: string } {
  const shares = given.length - 1 + FIRST_LANE_SHARE;
  const share = (WIDTH - LEFT - LANE_GAP * (given.length - 1)) / shares;
  let x = LEFT;
  let shapes = '';
  let words = '';
  for (const [index, lane] of given.entries()) {
    const width = index === 0 ? share * FIRST_LANE_SHARE : share;
    words += text('ps-soft-text', x, 14, lane.shortName ?? lane.lane, 'start');
    for (const span of lane.spans) {
      const top = y(span.startMinute);
      const at = { x, y: top, width, height: y(span.endMinute) - top };
      if (at.height <= 0) continue;
      shapes += spanShape(prefix, span, at, 'y');
      words +=
        (span.balloon === undefined || at.height < 24 ? '' : slotBalloon(span.balloon, x + 18, top + 18)) +
        labels(span, at);
    }
    x += width + LANE_GAP;
  }
  return { shapes, words };
}

function labels(span: TimeSpan, at: Box): string {
  if (span.kind === 'own' || span.kind === 'picked') return phaseLabels(span, at);
  const x = at.x + (span.balloon === undefined ? 8 : 36);
  if (at.height < 16 || !fits(span.label, at.width - (x - at.x) + 8)) return '';
  return text('ps-span-text', x, at.y + Math.min(20, at.height / 2 + 4.6), span.label, 'start');
}

function phaseLabels(span: TimeSpan, at: Box): string {
  const perMinute = at.height / (span.endMinute - span.startMinute);
  if (!span.phases) return at.height < 16 ? '' : text('ps-on-key', at.x + 10, at.y + 20, span.label, 'start');
  let begun = 0;
  let drawn = '';
  for (const phase of span.phases) {
    const top = at.y + begun * perMinute;
    const height = phase.minutes * perMinute;
    begun += phase.minutes;
    const isRun = phase.kind === 'run';
    const words = isRun ? span.label : (phase.label ?? '');
    if (words === '' || height < 12 || !fits(words, at.width * 0.66)) continue;
    drawn += text(
      isRun ? 'ps-on-key' : 'ps-span-text',
      at.x + at.width * 0.36,
      top + (isRun ? Math.min(20, height / 2 + 4.6) : height / 2 + 4.6),
      words,
      'start',
    );
  }
  return drawn;
}

function now(day: TimeDay, y: (minute: number) => number): string {
  if (day.nowMinute === undefined) return '';
  const at = y(day.nowMinute);
  return (
    line('ps-now', LEFT - 8, at, WIDTH, at) +
    path('ps-now-mark', `M${LEFT - 15} ${fixed(at - 5)}v10L${LEFT - 8} ${fixed(at)}z`)
  );
}
