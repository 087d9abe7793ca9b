import { regionContains } from './contains.js';
import { at, boxGapSquared, type EdgeTree, edgeTreeOf, isLeaf, middle } from './edge-tree.js';
import type { Point, Region } from './point.js';
import { crossingOf, nearestOnSegment } from './segment.js';

const TOUCH_MM = 1e-6;

/** A shortest distance and the two places it joins; `from` belongs to the first shape. */
export interface Separation {
  readonly distanceMm: number;
  readonly from: Point;
  readonly to: Point;
}

/**
 * The exact shortest distance between two areas, mm, and where; zero where they touch or overlap, with a place
 * they share. Null when either is empty.
 */
export function distanceBetween(a: Region, b: Region): Separation | null {
  const nearest = boundaryDistance(a, b);
  if (!nearest || nearest.distanceMm === 0) return nearest;
  const shared = vertexInside(a, b) ?? vertexInside(b, a);
  return shared ? { distanceMm: 0, from: shared, to: shared } : nearest;
}

/**
 * The exact shortest distance between the outlines of two regions, mm, whether or not one lies inside the other:
 * the metal left between a cavity and the edge of its plate. Null when either is empty.
 */
export function boundaryDistance(a: Region, b: Region): Separation | null {
  const treeA = treeOf(a);
  const treeB = treeOf(b);
  if (treeA.edgeCount === 0 || treeB.edgeCount === 0) return null;
  const search = new NearestEdges(treeA, treeB, Infinity, 'nearest');
  search.run();
  return { distanceMm: Math.sqrt(search.squared), from: search.from, to: search.to };
}

/**
 * The exact shortest distance from an area to a point, mm: zero inside it. Less a radius it is the distance to a
 * round hole. Null when the region is empty.
 */
export function distanceToPoint(region: Region, point: Point): Separation | null {
  const nearest = boundaryDistanceToPoint(region, point);
  if (!nearest) return null;
  return regionContains(region, point) ? { distanceMm: 0, from: point, to: point } : nearest;
}

/** The exact shortest distance from the outline of a region to a point, mm, inside it or not. Null when the region is empty. */
export function boundaryDistanceToPoint(region: Region, point: Point): Separation | null {
  const tree = treeOf(region);
  if (tree.edgeCount === 0) return null;
  const best = { squared: Infinity, from: point };
  nearestEdge(tree, point, best, 0, 0, tree.edgeCount);
  return { distanceMm: Math.sqrt(best.squared), from: best.from, to: point };
}

function nearestEdge(
  tree: EdgeTree,
  point: Point,
  best: { squared: number; from: Point },
  node: number,
  from: number,
  to: number,
): void {
  if (boxGapToPoint(tree.boxes, node, point) >= best.squared) return;
  if (!isLeaf(from, to)) {
    const half = middle(from, to);
    const [left, right] = [2 * node + 1, 2 * node + 2];
    const isLeftFirst = boxGapToPoint(tree.boxes, left, point) <= boxGapToPoint(tree.boxes, right, point);
    if (isLeftFirst) nearestEdge(tree, point, best, left, from, half);
    nearestEdge(tree, point, best, right, half, to);
    if (!isLeftFirst) nearestEdge(tree, point, best, left, from, half);
    return;
  }
  for (let k = 4 * from; k < 4 * to; k += 4) {
    const a = { x: at(tree.edges, k), y: at(tree.edges, k + 1) };
    const b = { x: at(tree.edges, k + 2), y: at(tree.edges, k + 3) };
    const near = nearestOnSegment(a, b, point);
    const squared = (near.x - point.x) ** 2 + (near.y - point.y) ** 2;
    if (squared >= best.squared) continue;
    best.squared = squared;
    best.from = near;
  }
}

function boxGapToPoint(boxes: Float64Array, node: number, { x, y }: Point): number {
  const dx = Math.max(0, at(boxes, 4 * node) - x, x - at(boxes, 4 * node + 2));
  const dy = Math.max(0, at(boxes, 4 * node + 1) - y, y - at(boxes, 4 * node + 3));
  return dx * dx + dy * dy;
}

/** Whether the outlines of two regions come nearer than `withinMm` anywhere. */
export function outlinesMeet(a: Region, b: Region, withinMm: number): boolean {
  return new NearestEdges(treeOf(a), treeOf(b), withinMm * withinMm, 'any').run();
}

/** Whether two areas share a place; touching within a millionth of a mm counts. */
export function regionsMeet(a: Region, b: Region): boolean {
  if (outlinesMeet(a, b, TOUCH_MM)) return true;
  return vertexInside(a, b) !== null || vertexInside(b, a) !== null;
}

/** A vertex of a ring of `a` that lies in `b`: enough to tell once their outlines are known not to meet. */
function vertexInside(a: Region, b: Region): Point | null {
  for (const [vertex] of a) if (vertex && regionContains(b, vertex)) return vertex;
  return null;
}

/** Regions never change, so a tree is built once for as long as its region is kept. */
const trees = new WeakMap<Region, EdgeTree>();

function treeOf(region: Region): EdgeTree {
  const known = trees.get(region);
  if (known) return known;
  const tree = edgeTreeOf(region, true);
  trees.set(region, tree);
  return tree;
}

class NearestEdges {
  squared: number;
  from: Point = { x: 0, y: 0 };
  to: Point = { x: 0, y: 0 };
  readonly #a: EdgeTree;
  readonly #b: EdgeTree;
  /** Below this no nearer edges are looked for. */
  readonly #enough: number;

  /** Looks only for edges nearer than the square root of `squared`, mm2: the nearest, or any. */
  constructor(a: EdgeTree, b: EdgeTree, squared: number, wanted: 'nearest' | 'any') {
    this.#a = a;
    this.#b = b;
    this.squared = squared;
    this.#enough = wanted === 'any' ? squared : 0;
  }

  /** Whether anything that near was found. */
  run(): boolean {
    const { edgeCount: countA } = this.#a;
    const { edgeCount: countB } = this.#b;
    const bound = this.squared;
    if (countA > 0 && countB > 0) this.visit(0, 0, countA, 0, 0, countB);
    return this.squared < bound;
  }

  /** Goes down into the nearer half first and leaves out what cannot come closer than the best so far. */
  visit(i: number, fromA: number, toA: number, j: number, fromB: number, toB: number): void {
    if (this.squared < this.#enough || boxGapSquared(this.#a.boxes, i, this.#b.boxes, j) >= this.squared)
      return;
    const leafA = isLeaf(fromA, toA);
    const leafB = isLeaf(fromB, toB);
    if (leafA && leafB) {
      for (let k = fromA; k < toA; k++) for (let m = fromB; m < toB; m++) this.#compare(4 * k, 4 * m);
    } else if (leafB || (!leafA && toA - fromA >= toB - fromB)) {
      const half = middle(fromA, toA);
      const left = boxGapSquared(this.#a.boxes, 2 * i + 1, this.#b.boxes, j);
      const right = boxGapSquared(this.#a.boxes, 2 * i + 2, this.#b.boxes, j);
      if (left <= right) this.visit(2 * i + 1, fromA, half, j, fromB, toB);
      this.visit(2 * i + 2, half, toA, j, fromB, toB);
      if (left > right) this.visit(2 * i + 1, fromA, half, j, fromB, toB);
    } else {
      const half = middle(fromB, toB);
      const left = boxGapSquared(this.#a.boxes, i, this.#b.boxes, 2 * j + 1);
      const right = boxGapSquared(this.#a.boxes, i, this.#b.boxes, 2 * j + 2);
      if (left <= right) this.visit(i, fromA, toA, 2 * j + 1, fromB, half);
      this.visit(i, fromA, toA, 2 * j + 2, half, toB);
      if (left > right) this.visit(i, fromA, toA, 2 * j + 1, fromB, half);
    }
  }

  #compare(k: number, m: number): void {
    const a = this.#a.edges;
    const b = this.#b.edges;
    const [ax, ay, bx, by] = [at(a, k), at(a, k + 1), at(a, k + 2), at(a, k + 3)];
    const [cx, cy, dx, dy] = [at(b, m), at(b, m + 1), at(b, m + 2), at(b, m + 3)];
    const gapX = Math.max(Math.min(ax, bx) - Math.max(cx, dx), Math.min(cx, dx) - Math.max(ax, bx), 0);
    const gapY = Math.max(Math.min(ay, by) - Math.max(cy, dy), Math.min(cy, dy) - Math.max(ay, by), 0);
    if (gapX * gapX + gapY * gapY >= this.squared) return;
    const [p1, p2, q1, q2] = [
      { x: ax, y: ay },
      { x: bx, y: by },
      { x: cx, y: cy },
      { x: dx, y: dy },
    ];
    const meeting = crossingOf(p1, p2, q1, q2);
    if (meeting) this.#keep(meeting, meeting);
    this.#keep(p1, nearestOnSegment(q1, q2, p1));
    this.#keep(p2, nearestOnSegment(q1, q2, p2));
    this.#keep(nearestOnSegment(p1, p2, q1), q1);
    this.#keep(nearestOnSegment(p1, p2, q2), q2);
  }

  #keep(from: Point, to: Point): void {
    const squared = (to.x - from.x) ** 2 + (to.y - from.y) ** 2;
    if (squared >= this.squared) return;
    this.squared = squared;
    this.from = from;
    this.to = to;
  }
}
