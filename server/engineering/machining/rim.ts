import { at, type EdgeTree, edgeTreeOf } from '../geometry/edge-tree.js';
import type { Point, Region } from '../geometry/point.js';

/** The walls round an area that a cutter works in: edges with the area on their left. */
export interface Rim {
  /** Edges of the area's own rings, then of what is deeper. */
  readonly tree: EdgeTree;
  /** The rings of what is cut to just this depth. */
  readonly own: Region;
  /** Edge by edge: 1 where there is no wall because it is cut as deep on the other side. */
  readonly open: Uint8Array;
}

/** Ends of one edge are the same points in both levels that it parts, to the grid they were worked out on, mm. */
const SAME_PLACE_MM = 1e-4;

/**
 * The rim of a level, a cutter being free to run over what is cut deeper. Where the level ends at a deeper one there
 * is no wall: the edge runs there and back, and is left open.
 */
export function rimOf(own: Region, deeper: readonly Region[]): Rim {
  const tree = edgeTreeOf([...own, ...deeper.flat()], true);
  const open = new Uint8Array(tree.edgeCount);
  if (deeper.length > 0) openShared(tree, open);
  return { tree, own, open };
}

function openShared({ edges, boxes, edgeCount }: EdgeTree, open: Uint8Array): void {
  const there = new Map<number, number>();
  const [left, bottom] = [at(boxes, 0), at(boxes, 1)];
  for (let k = 0; k < edgeCount; k++) {
    const x = Math.round((at(edges, 4 * k) + at(edges, 4 * k + 2) - 2 * left) / SAME_PLACE_MM / 2);
    const y = Math.round((at(edges, 4 * k + 1) + at(edges, 4 * k + 3) - 2 * bottom) / SAME_PLACE_MM / 2);
    const middle = x * 2 ** 26 + y;
    const back = there.get(middle);
    if (back === undefined) there.set(middle, k);
    else if (runsBack(edges, k, back)) [open[k], open[back]] = [1, 1];
  }
}

function runsBack(edges: Float64Array, k: number, back: number): boolean {
  const dx = Math.abs(at(edges, 4 * k) - at(edges, 4 * back + 2));
  const dy = Math.abs(at(edges, 4 * k + 1) - at(edges, 4 * back + 3));
  return dx < 2 * SAME_PLACE_MM && dy < 2 * SAME_PLACE_MM;
}

/** The largest circle in the area that touches its rim at one place. */
export interface TouchingCircle {
  readonly radiusMm: number;
  readonly centre: Point;
  /** The edge that holds it on its other side; -1 when it is as large as was asked for. */
  readonly heldBy: number;
  /** Where it is held. */
  readonly heldAt: Point;
  /** Cosine between the two directions of touch from its middle: -1 when it is held from right across. */
  readonly across: number;
}
