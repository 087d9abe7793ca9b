import type { Bounds } from '../engineering/geometry/bounds.js';
import type { Point } from '../engineering/geometry/point.js';
import { balloon } from './balloon.js';

/** A number at a place; mm, x right, y up. */
export interface PlaceMark {
  readonly words: string;
  readonly at: Point;
}

/** How far a balloon stands off its place, in letters. */
const OFF = 1.7;

/** Each place with its number in a balloon, that stands off towards the middle so that it never leaves the picture. */
export function placeMarks(marks: readonly PlaceMark[], bounds: Bounds, h: number): string {
  const middle = { x: (bounds.minX + bounds.maxX) / 2, y: (bounds.minY + bounds.maxY) / 2 };
  return marks
    .map(({ words, at }) => {
      const [x, y] = [at.x, -at.y];
      const toX = x + (x > middle.x ? -1 : 1) * OFF * h;
      const toY = y + (y > middle.y ? -1 : 1) * OFF * h;
      return balloon({ words, tone: 'caution' }, toX, toY, x, y, h);
    })
    .join('');
}
