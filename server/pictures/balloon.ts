import type { Tone } from './dimension.js';
import { circle, element, line, text } from './svg.js';

/** A number in a ring, and where on the drawing it points. */
export interface Balloon {
  readonly words: string;
  readonly tone: Tone;
}

/** Ring radius as a share of the letter height: 5.6 mm at letters of 6 mm. */
export const BALLOON_RADIUS = 5.6 / 6;

/** A balloon at (x, y) with a leader that ends in a dot at (toX, toY). */
export function balloon(
  { words, tone }: Balloon,
  x: number,
  y: number,
  toX: number,
  toY: number,
  letterHeight: number,
): string {
  const radius = BALLOON_RADIUS * letterHeight;
  const distance = Math.hypot(toX - x, toY - y) || 1;
  const edgeX = x + ((toX - x) * radius) / distance;
  const edgeY = y + ((toY - y) * radius) / distance;
  const ring =
    circle(`ps-balloon-ring ps-tone-${tone}`, x, y, radius) +
    text(`ps-balloon-text ps-tone-${tone}`, x, y + 0.36 * letterHeight, words);
  return (
    line(`ps-leader ps-tone-${tone}`, edgeX, edgeY, toX, toY) +
    circle(`ps-arrow ps-tone-${tone}`, toX, toY, 0.14 * letterHeight) +
    element('g', { class: 'ps-balloon-mark' }, ring)
  );
}
