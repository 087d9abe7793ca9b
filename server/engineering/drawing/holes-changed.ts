import type { Point } from '../geometry/point.js';

export interface Hole {
  readonly at: Point;
  readonly diameterMm: number;
}

/** A hole that is not as it was; `from` is null for a new one, `to` for one that is gone. */
export interface HoleChange {
  readonly change: 'added' | 'removed' | 'moved' | 'resized';
  readonly from: Hole | null;
  readonly to: Hole | null;
  /** 0 but for one that moved. */
  readonly movedMm: number;
}

/** Farther than this it is another hole: no screw of this trade has a head as wide. Common practice, no source. */
const MOVED_MOST_MM = 20;

/** Which holes are new, gone, elsewhere or wider: pairs the nearest first, each hole once. */
export function holesChanged(
  before: readonly Hole[],
  after: readonly Hole[],
  sameMm: number,
): readonly HoleChange[] {
  const pairs = before
    .flatMap((from, i) => after.map((to, j) => ({ i, j, from, to, movedMm: apart(from, to) })))
    .filter(({ movedMm }) => movedMm <= MOVED_MOST_MM)
    .toSorted((a, b) => a.movedMm - b.movedMm);
  const [wasPaired, isPaired] = [new Set<number>(), new Set<number>()];
  const changes: HoleChange[] = [];
  for (const { i, j, from, to, movedMm } of pairs) {
    if (wasPaired.has(i) || isPaired.has(j)) continue;
    wasPaired.add(i);
    isPaired.add(j);
    if (movedMm > sameMm) changes.push({ change: 'moved', from, to, movedMm });
    else if (Math.abs(to.diameterMm - from.diameterMm) > sameMm)
      changes.push({ change: 'resized', from, to, movedMm: 0 });
  }
  const added = after.filter((_hole, j) => !isPaired.has(j));
  const removed = before.filter((_hole, i) => !wasPaired.has(i));
  return [
    ...changes,
    ...added.map((to) => ({ change: 'added' as const, from: null, to, movedMm: 0 })),
    ...removed.map((from) => ({ change: 'removed' as const, from, to: null, movedMm: 0 })),
  ];
}

function apart(a: Hole, b: Hole): number {
  return Math.hypot(a.at.x - b.at.x, a.at.y - b.at.y);
}
