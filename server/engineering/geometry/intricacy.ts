import type { Point } from './point.js';
import { TooIntricate } from './too-intricate.js';

/** With fewer edges even all of them crossing each other is soon worked out. */
const FEW_EDGES = 2000;
/** Pairs of edges that may cross: a second's work, and far more than a plate has. */
const MOST_MEETINGS = 1_000_000;
/** Edges side by side, summed over a sweep from bottom to top. */
const MOST_COMPARISONS = 50_000_000;

/**
 * Bounds what an overlay of outlines will take before it is begun: its work grows with the pairs of edges that meet and
 * with how many lie side by side. `reachMm` widens every edge, for lines that are still to be made as wide as that.
 * @throws TooIntricate
 */
export function refuseIntricate(paths: readonly (readonly Point[])[], reachMm = 0): void {
  const count = paths.reduce((sum, { length }) => sum + length, 0);
  if (count <= FEW_EDGES) return;
  const edges = paths.flatMap((path) =>
    path.map((a, i) => boxOf(a, path[(i + 1) % path.length] as Point, reachMm)),
  );
  edges.sort((a, b) => a.minY - b.minY);
  let comparisons = 0;
  let meetings = 0;
  let open: Box[] = [];
  for (const edge of edges) {
    comparisons += open.length;
    if (comparisons > MOST_COMPARISONS) throw new TooIntricate(MOST_COMPARISONS);
    const still: Box[] = [];
    for (const other of open) {
      if (other.maxY < edge.minY) continue;
      still.push(other);
      if (other.minX <= edge.maxX && edge.minX <= other.maxX) meetings++;
    }
    if (meetings > MOST_MEETINGS) throw new TooIntricate(MOST_MEETINGS);
    still.push(edge);
    open = still;
  }
}

interface Box {
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;
}

function boxOf(a: Point, b: Point, reachMm: number): Box {
  return {
    minX: Math.min(a.x, b.x) - reachMm,
    maxX: Math.max(a.x, b.x) + reachMm,
    minY: Math.min(a.y, b.y) - reachMm,
    maxY: Math.max(a.y, b.y) + reachMm,
  };
}
