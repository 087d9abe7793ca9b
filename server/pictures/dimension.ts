import { fixed, path, text } from './svg.js';

export type Tone = 'ink' | 'caution' | 'stop';

export interface DimensionOptions {
  /** Height of letters in units of the drawing; arrows and gaps follow it. */
  readonly letterHeight: number;
  readonly tone?: Tone;
  /** Where a dimension too short for its words puts them. */
  readonly outside?: 'after' | 'before';
}

/** Arrowheads are slender: six times as long as half their width. */
const ARROW_LENGTH = 0.62;
const ARROW_HALF_WIDTH = ARROW_LENGTH / 6;
/** Mean width of a letter of B612 as a share of its height. */
const LETTER_WIDTH = 0.56;

/** A dimension along x at height y with extension lines from `fromY` (the edge measured) past the line. */
export function horizontalDimension(
  x1: number,
  x2: number,
  y: number,
  fromY: number,
  words: string,
  options: DimensionOptions,
): string {
  const h = options.letterHeight;
  const tone = options.tone ?? 'ink';
  const past = y + Math.sign(y - fromY || 1) * 0.35 * h;
  const clear = fromY + Math.sign(y - fromY || 1) * 0.2 * h;
  const extensions = `M${at(x1, clear)}V${fixed(past)}M${at(x2, clear)}V${fixed(past)}`;
  const roomy = x2 - x1 > 2.6 * ARROW_LENGTH * h;
  const reach = 1.6 * ARROW_LENGTH * h;
  const stroke = roomy
    ? `M${at(x1, y)}H${fixed(x2)}`
    : `M${at(x1 - reach, y)}H${fixed(x1)}M${at(x2, y)}H${fixed(x2 + reach)}`;
  const wide = words.length * LETTER_WIDTH * h < x2 - x1 + (roomy ? 0 : -h);
  const label = wide
    ? text(`ps-dim-text ps-tone-${tone}`, (x1 + x2) / 2, y - 0.3 * h, words)
    : options.outside === 'before'
      ? text(
          `ps-dim-text ps-tone-${tone}`,
          x1 - (roomy ? 0.3 * h : reach + 0.2 * h),
          y + 0.36 * h,
          words,
          'end',
        )
      : text(
          `ps-dim-text ps-tone-${tone}`,
          x2 + (roomy ? 0.3 * h : reach + 0.2 * h),
          y + 0.36 * h,
          words,
          'start',
        );
  return (
    path(`ps-dim ps-tone-${tone}`, extensions + stroke) +
    path(
      `ps-arrow ps-tone-${tone}`,
      arrow(x1, y, roomy ? -1 : 1, 0, h) + arrow(x2, y, roomy ? 1 : -1, 0, h),
    ) +
    label
  );
}

/** A dimension along y at x, its words turned to be read from the right, extension lines from `fromX`. */
export function verticalDimension(
  y1: number,
  y2: number,
  x: number,
  fromX: number,
  words: string,
  options: DimensionOptions,
): string {
  const h = options.letterHeight;
  const tone = options.tone ?? 'ink';
  const away = Math.sign(x - fromX || 1);
  const past = x + away * 0.35 * h;
  const clear = fromX + away * 0.2 * h;
  const middle = (y1 + y2) / 2;
  const textX = x - 0.3 * h;
  return (
    path(
      `ps-dim ps-tone-${tone}`,
      `M${at(clear, y1)}H${fixed(past)}M${at(clear, y2)}H${fixed(past)}M${at(x, y1)}V${fixed(y2)}`,
    ) +
    path(`ps-arrow ps-tone-${tone}`, arrow(x, y1, 0, -1, h) + arrow(x, y2, 0, 1, h)) +
    text(
      `ps-dim-text ps-tone-${tone}`,
      textX,
      middle,
      words,
      'middle',
      `rotate(-90 ${fixed(textX)} ${fixed(middle)})`,
    )
  );
}

/** Path data of an arrowhead with its point at (x, y), pointing along the unit vector (dx, dy). */
export function arrow(x: number, y: number, dx: number, dy: number, letterHeight: number): string {
  const back = ARROW_LENGTH * letterHeight;
  const half = ARROW_HALF_WIDTH * letterHeight;
  const bx = x - dx * back;
  const by = y - dy * back;
  return `M${at(x, y)}L${at(bx - dy * half, by + dx * half)}L${at(bx + dy * half, by - dx * half)}z`;
}

function at(x: number, y: number): string {
  return `${fixed(x)} ${fixed(y)}`;
}
