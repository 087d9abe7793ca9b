import { circle, text } from '../svg.js';

/** A numbered place of a drawing; the list beside it says what is there. */
export function zone(number: number, x: number, y: number): string {
  return (
    circle('ps-label-ground', x, y, 9.5) +
    circle('ps-thin', x, y, 9.5) +
    text('ps-dim-text', x, y + 4.4, String(number))
  );
}
