import type { Bounds } from './bounds.js';
import { TooIntricate } from './too-intricate.js';

/** A hundred times what the parts of an intricate plate need. */
const COMPARISONS = 10_000_000;
/** Pairs that meet are looked at more closely, so there may be fewer of them. */
const MEETINGS = 200_000;

/**
 * Calls back with every pair of boxes that touch or overlap, by a sweep from left to right.
 * @throws TooIntricate when too many boxes lie above one another
 */
export function eachMeetingPair(boxes: readonly Bounds[], meet: (i: number, j: number) => void): void {
  const order = boxes.map((_, i) => i).sort((i, j) => (boxes[i] as Bounds).minX - (boxes[j] as Bounds).minX);
  let open: number[] = [];
  let compared = 0;
  let meetings = 0;
  for (const i of order) {
    const box = boxes[i] as Bounds;
    open = open.filter((j) => (boxes[j] as Bounds).maxX >= box.minX);
    compared += open.length;
    if (compared > COMPARISONS) throw new TooIntricate(COMPARISONS);
    for (const j of open) {
      const other = boxes[j] as Bounds;
      if (other.minY > box.maxY || box.minY > other.maxY) continue;
      if (++meetings > MEETINGS) throw new TooIntricate(MEETINGS);
      meet(j, i);
    }
    open.push(i);
  }
}
