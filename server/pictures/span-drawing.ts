import { hatch } from './hatch.js';
import { phaseBox } from './phase-patterns.js';
import { box, circle, fixed, path, text } from './svg.js';
import type { TimeSpan } from './time-line.js';

/** A box of the time line, px. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A lane that runs down the page and is wide enough leaves most of itself to the names of phases. */
const NAMES_FROM_WIDTH = 100;
const PATTERN_SHARE = 0.3;

/** Mean width of a letter in letters of 13 px. */
const LETTER_WIDTH = 6.9;
const LEAST_LABEL_HEIGHT = 14;

/** Everything of a span but its label, in its box; time runs along `axis`. */
export function spanShape(prefix: string, span: TimeSpan, at: Box, axis: 'x' | 'y'): string {
  const { x, y, width, height } = at;
  const whole = (className: string) => box(className, x, y, x + width, y + height);
  switch (span.kind) {
    case 'other':
      return whole('ps-span-other');
    case 'closed':
      return path('ps-hatch', hatch(x, y, x + width, y + height, 8));
    case 'out-of-service':
      return (
        whole('ps-span-out') +
        path(
          'ps-span-cross',
          `M${fixed(x)} ${fixed(y)}l${fixed(width)} ${fixed(height)}M${fixed(x)} ${fixed(y + height)}l${fixed(width)} ${fixed(-height)}`,
        )
      );
    case 'free':
      return whole('ps-span-free');
    case 'own':
      return phases(prefix, span, at, axis) + whole('ps-span-own');
    case 'picked':
      return phases(prefix, span, at, axis) + whole('ps-span-picked');
  }
}

function phases(prefix: string, span: TimeSpan, at: Box, axis: 'x' | 'y'): string {
  const minutes = span.endMinute - span.startMinute;
  const given = span.phases ?? [{ kind: 'run' as const, minutes }];
  const perMinute = (axis === 'x' ? at.width : at.height) / minutes;
  let begun = 0;
  let drawn = '';
  for (const phase of given) {
    const from = begun * perMinute;
    const long = phase.minutes * perMinute;
    begun += phase.minutes;
    drawn +=
      axis === 'x'
        ? phaseBox(prefix, phase.kind, at.x + from, at.y, long, at.height, axis)
        : phaseBox(
            prefix,
            phase.kind,
            at.x,
            at.y + from,
            phase.kind === 'run' || at.width < NAMES_FROM_WIDTH ? at.width : at.width * PATTERN_SHARE,
            long,
            axis,
          );
  }
  return drawn;
}

/** The label of a span that runs along x, where it fits; on a run it stands in the run's own stretch. */
export function spanLabel(span: TimeSpan, at: Box): string {
  if (span.label === '' || at.height < LEAST_LABEL_HEIGHT) return '';
  const baseline = at.y + at.height / 2 + 4.6;
  if (span.kind === 'own' || span.kind === 'picked') {
    const run = runOf(span, at);
    const words = run === null ? undefined : fitting(span, run.width);
    return run === null || words === undefined ? '' : text('ps-on-key', run.x + 8, baseline, words, 'start');
  }
  const words = fitting(span, at.width - (span.balloon === undefined ? 0 : 32));
  return words === undefined ? '' : text('ps-span-text', at.x + 8, baseline, words, 'start');
}

/** The longest words of a span that fit. */
function fitting({ label, shortLabel = '' }: TimeSpan, width: number): string | undefined {
  return [label, shortLabel].find((words) => words !== '' && fits(words, width));
}

/** The longest run of a span, as a box. */
function runOf(span: TimeSpan, at: Box): Box | null {
  const minutes = span.endMinute - span.startMinute;
  if (!span.phases) return at;
  const perMinute = at.width / minutes;
  let begun = 0;
  for (const phase of span.phases) {
    if (phase.kind === 'run') return { ...at, x: at.x + begun * perMinute, width: phase.minutes * perMinute };
    begun += phase.minutes;
  }
  return null;
}

export function fits(words: string, width: number): boolean {
  return words.length * LETTER_WIDTH + 12 <= width;
}

/** The letter of a slot, in a ring. */
export function slotBalloon(words: string, x: number, y: number): string {
  return circle('ps-balloon-ring', x, y, 10.5) + text('ps-balloon-text', x, y + 4.6, words);
}
