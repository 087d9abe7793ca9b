import type { Point } from '../geometry/point.js';
import { TooIntricate } from '../geometry/too-intricate.js';

export interface NearbyPair {
  readonly i: number;
  readonly j: number;
  readonly distanceMm: number;
}

/** What a drawing may need: some ten neighbours for each of the most entities it can have. */
const MOST_PAIRS = 2_000_000;
/** More columns of cells than a drawing of 20 m has at the finest reach used. */
const COLUMNS = 2 ** 26;

/**
 * All pairs of points no farther apart than `reachMm`, found by sorting them into square cells of that size.
 * @throws TooIntricate when too many points lie in one place
 */
export function nearbyPairs(points: readonly Point[], reachMm: number): NearbyPair[] {
  const cells = new Map<number, number[]>();
  const pairs: NearbyPair[] = [];
  let compared = 0;
  points.forEach((point, j) => {
    const column = Math.floor(point.x / reachMm);
    const row = Math.floor(point.y / reachMm);
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        const neighbours = cells.get((column + dx) * COLUMNS + row + dy);
        if (!neighbours) continue;
        compared += neighbours.length;
        if (compared > MOST_PAIRS) throw new TooIntricate(MOST_PAIRS);
        for (const i of neighbours) {
          const other = points[i] as Point;
          const distanceMm = Math.hypot(other.x - point.x, other.y - point.y);
          if (distanceMm <= reachMm) pairs.push({ i, j, distanceMm });
        }
      }
    }
    const key = column * COLUMNS + row;
    const cell = cells.get(key);
    if (cell) cell.push(j);
    else cells.set(key, [j]);
  });
  return pairs;
}
