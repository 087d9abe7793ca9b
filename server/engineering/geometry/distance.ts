import { regionContains } from './contains.js';
import { at, boxGapSquared, type EdgeTree, edgeTreeOf, isLeaf, middle } from './edge-tree.js';
import type { Point, Region } from './point.js';
import { crossingOf, nearestOnSegment, squaredToSegment } from './segment.js';

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
    const [ax, ay, bx, by] = [
      at(tree.edges, k),
      at(tree.edges, k + 1),
      at(tree.edges, k + 2),
      at(tree.edges, k + 3),
    ];
    const squared = squaredToSegment(point.x, point.y, ax, ay, bx, by);
    if (squared >= best.squared) continue;
    best.squared = squared;
    best.from = nearestOnSegment({ x: ax, y: ay }, { x: bx, y: by }, point);
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
    const ax = at(a, k);
    const ay = at(a, k + 1);
    const bx = at(a, k + 2);
    const by = at(a, k + 3);
    const cx = at(b, m);
    const cy = at(b, m + 1);
    const dx = at(b, m + 2);
    const dy = at(b, m + 3);
    const gapX = Math.max(Math.min(ax, bx) - Math.max(cx, dx), Math.min(cx, dx) - Math.max(ax, bx), 0);
    const gapY = Math.max(Math.min(ay, by) - Math.max(cy, dy), Math.min(cy, dy) - Math.max(ay, by), 0);
    if (gapX * gapX + gapY * gapY >= this.squared) return;
    if (gapX === 0 && gapY === 0) {
      const meeting = crossingOf({ x: ax, y: ay }, { x: bx, y: by }, { x: cx, y: cy }, { x: dx, y: dy });
      if (meeting) this.#keep(meeting, meeting);
    }
    if (squaredToSegment(ax, ay, cx, cy, dx, dy) < this.squared) this.#toB(ax, ay, cx, cy, dx, dy);
    if (squaredToSegment(bx, by, cx, cy, dx, dy) < this.squared) this.#toB(bx, by, cx, cy, dx, dy);
    if (squaredToSegment(cx, cy, ax, ay, bx, by) < this.squared) this.#toA(cx, cy, ax, ay, bx, by);
    if (squaredToSegment(dx, dy, ax, ay, bx, by) < this.squared) this.#toA(dx, dy, ax, ay, bx, by);
  }

  /** From an end of an edge of the first shape to an edge of the second. */
  #toB(px: number, py: number, cx: number, cy: number, dx: number, dy: number): void {
    const from = { x: px, y: py };
    this.#keep(from, nearestOnSegment({ x: cx, y: cy }, { x: dx, y: dy }, from));
  }

  /** From an edge of the first shape to an end of an edge of the second. */
  #toA(px: number, py: number, ax: number, ay: number, bx: number, by: number): void {
    const to = { x: px, y: py };
    this.#keep(nearestOnSegment({ x: ax, y: ay }, { x: bx, y: by }, to), to);
  }

  #keep(from: Point, to: Point): void {
    const squared = (to.x - from.x) ** 2 + (to.y - from.y) ** 2;
    if (squared >= this.squared) return;
    this.squared = squared;
    this.from = from;
    this.to = to;
  }
}
