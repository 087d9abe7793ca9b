import type { Point } from './point.js';

const EDGES_PER_LEAF = 8;

/**
 * The edges of some paths in a tree of upright boxes. Neighbours along a path lie near each other, so halving the
 * list of edges as drawn makes good boxes without sorting.
 */
export interface EdgeTree {
  readonly edgeCount: number;
  /** ax, ay, bx, by of every edge. */
  readonly edges: Float64Array;
  /** minX, minY, maxX, maxY of every node; the children of node i are 2i + 1 and 2i + 2. */
  readonly boxes: Float64Array;
}

export function edgeTreeOf(paths: readonly (readonly Point[])[], closed: boolean): EdgeTree {
  let edgeCount = 0;
  for (const path of paths) edgeCount += closed ? path.length : Math.max(0, path.length - 1);
  const edges = new Float64Array(edgeCount * 4);
  let k = 0;
  for (const path of paths) {
    let a = closed ? path.at(-1) : undefined;
    for (const b of path) {
      if (a) {
        edges[k] = a.x;
        edges[k + 1] = a.y;
        edges[k + 2] = b.x;
        edges[k + 3] = b.y;
        k += 4;
      }
      a = b;
    }
  }
  const boxes = new Float64Array(4 * nodeCountFor(edgeCount));
  if (edgeCount > 0) fillBoxes(edges, boxes, 0, 0, edgeCount);
  return { edgeCount, edges, boxes };
}

/** Whether a node that holds the edges from `from` up to `to` is a leaf. */
export function isLeaf(from: number, to: number): boolean {
  return to - from <= EDGES_PER_LEAF;
}

/** Where a node's edges are divided between its children. */
export function middle(from: number, to: number): number {
  return (from + to) >> 1;
}

/** Squared distance between the boxes of two nodes, mm2; zero where they touch or overlap. */
export function boxGapSquared(a: Float64Array, i: number, b: Float64Array, j: number): number {
  const dx = Math.max(0, at(a, 4 * i) - at(b, 4 * j + 2), at(b, 4 * j) - at(a, 4 * i + 2));
  const dy = Math.max(0, at(a, 4 * i + 1) - at(b, 4 * j + 3), at(b, 4 * j + 1) - at(a, 4 * i + 3));
  return dx * dx + dy * dy;
}

/** An entry known to be there. */
export function at(values: Float64Array, index: number): number {
  return values[index] as number;
}

function nodeCountFor(edgeCount: number): number {
  let nodes = 1;
  for (let perNode = edgeCount; perNode > EDGES_PER_LEAF; perNode = Math.ceil(perNode / 2))
    nodes = 2 * nodes + 1;
  return nodes;
}

function fillBoxes(edges: Float64Array, boxes: Float64Array, node: number, from: number, to: number): void {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  if (isLeaf(from, to)) {
    for (let k = 4 * from; k < 4 * to; k += 2) {
      const x = at(edges, k);
      const y = at(edges, k + 1);
      if (x < minX) minX = x;
      if (x > maxX) maxX = x;
      if (y < minY) minY = y;
      if (y > maxY) maxY = y;
    }
  } else {
    const half = middle(from, to);
    fillBoxes(edges, boxes, 2 * node + 1, from, half);
    fillBoxes(edges, boxes, 2 * node + 2, half, to);
    for (const child of [8 * node + 4, 8 * node + 8]) {
      minX = Math.min(minX, at(boxes, child));
      minY = Math.min(minY, at(boxes, child + 1));
      maxX = Math.max(maxX, at(boxes, child + 2));
      maxY = Math.max(maxY, at(boxes, child + 3));
    }
  }
  boxes.set([minX, minY, maxX, maxY], 4 * node);
}
