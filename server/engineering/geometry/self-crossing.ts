import { areaOf, ringAreaOf } from './area.js';
import { unionOf } from './boolean.js';
import { at, boxGapSquared, type EdgeTree, edgeTreeOf, isLeaf, middle } from './edge-tree.js';
import { Effort } from './effort.js';
import type { Point, Ring } from './point.js';
import { crossingOf, nearestOnSegment } from './segment.js';

/** A ring that only comes this near to itself touches; it need not cross. */
const TOUCH_MM = 1e-7;
/** Some 20 times what a hundred thousand edges of an ordinary outline need. */
const COMPARISONS = 50_000_000;

/** What looking for crossings in all rings of one drawing may take. */
export function crossingEffort(): Effort {
  return new Effort(COMPARISONS);
}

/**
 * Where a ring crosses itself, or null. Loops shorter than `loopMm` along the ring are forgiven: joining loose ends
 * leaves such. A ring that touches itself without crossing is fine.
 * @throws TooIntricate when telling would take too long.
 */
export function selfCrossingOf(ring: Ring, loopMm = 0, effort = crossingEffort()): Point | null {
  if (isConvex(ring)) return null;
  const search = new RingAgainstItself(ring, loopMm, effort);
  search.within(0, 0, ring.length);
  if (search.crossing) return search.crossing;
  return search.touch && enclosesTwice(ring) ? search.touch : null;
}

/** A ring that turns one way only, and once round, cannot cross itself: x and y turn back twice in it. */
function isConvex(ring: Ring): boolean {
  let turns = 0;
  let reversalsX = 0;
  let reversalsY = 0;
  let a = ring.at(-2);
  let b = ring.at(-1);
  for (const c of ring) {
    if (!a || !b) return true;
    const turn = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
    if (turn * turns < 0) return false;
    if (turn !== 0) turns = turn;
    if (b.x > a.x !== c.x > b.x) reversalsX++;
    if (b.y > a.y !== c.y > b.y) reversalsY++;
    a = b;
    b = c;
  }
  return reversalsX <= 2 && reversalsY <= 2;
}

/** Where strands meet in a shared vertex, crossing shows in the area: some of it is counted twice or backwards. */
function enclosesTwice(ring: Ring): boolean {
  const counted = Math.abs(ringAreaOf(ring));
  return Math.abs(counted - areaOf(unionOf([[ring]]))) > 1e-3 + 1e-6 * counted;
}

class RingAgainstItself {
  crossing: Point | null = null;
  touch: Point | null = null;
  readonly #tree: EdgeTree;
  readonly #lengthSoFar: Float64Array;
  readonly #loopMm: number;
  readonly #effort: Effort;

  constructor(ring: Ring, loopMm: number, effort: Effort) {
    this.#effort = effort;
    this.#tree = edgeTreeOf([ring], true);
    this.#loopMm = loopMm;
    this.#lengthSoFar = lengthsAlong(this.#tree);
  }

  within(node: number, from: number, to: number): void {
    if (this.crossing) return;
    if (isLeaf(from, to)) {
      for (let k = from; k < to; k++) for (let m = k + 1; m < to; m++) this.#compare(k, m);
      return;
    }
    const half = middle(from, to);
    this.within(2 * node + 1, from, half);
    this.within(2 * node + 2, half, to);
    this.#between(2 * node + 1, from, half, 2 * node + 2, half, to);
  }

  #between(i: number, fromI: number, toI: number, j: number, fromJ: number, toJ: number): void {
    if (this.crossing || boxGapSquared(this.#tree.boxes, i, this.#tree.boxes, j) > 0) return;
    this.#effort.spend(1);
    const leafI = isLeaf(fromI, toI);
    const leafJ = isLeaf(fromJ, toJ);
    if (leafI && leafJ) {
      this.#effort.spend((toI - fromI) * (toJ - fromJ));
      for (let k = fromI; k < toI; k++) for (let m = fromJ; m < toJ; m++) this.#compare(k, m);
    } else if (leafJ || (!leafI && toI - fromI >= toJ - fromJ)) {
      const half = middle(fromI, toI);
      this.#between(2 * i + 1, fromI, half, j, fromJ, toJ);
      this.#between(2 * i + 2, half, toI, j, fromJ, toJ);
    } else {
      const half = middle(fromJ, toJ);
      this.#between(i, fromI, toI, 2 * j + 1, fromJ, half);
      this.#between(i, fromI, toI, 2 * j + 2, half, toJ);
    }
  }

  #compare(k: number, m: number): void {
    const { edges, edgeCount } = this.#tree;
    if (m - k <= 1 || m - k === edgeCount - 1) return;
    const p1x = at(edges, 4 * k);
    const p1y = at(edges, 4 * k + 1);
    const p2x = at(edges, 4 * k + 2);
    const p2y = at(edges, 4 * k + 3);
    const q1x = at(edges, 4 * m);
    const q1y = at(edges, 4 * m + 1);
    const q2x = at(edges, 4 * m + 2);
    const q2y = at(edges, 4 * m + 3);
    if (Math.max(p1x, p2x) < Math.min(q1x, q2x) - TOUCH_MM) return;
    if (Math.max(q1x, q2x) < Math.min(p1x, p2x) - TOUCH_MM) return;
    if (Math.max(p1y, p2y) < Math.min(q1y, q2y) - TOUCH_MM) return;
    if (Math.max(q1y, q2y) < Math.min(p1y, p2y) - TOUCH_MM) return;
    const p1 = { x: p1x, y: p1y };
    const p2 = { x: p2x, y: p2y };
    const q1 = { x: q1x, y: q1y };
    const q2 = { x: q2x, y: q2y };
    if (this.#loopBetween(k, m) <= this.#loopMm) return;
    this.crossing ??= crossingOf(p1, p2, q1, q2);
    if (!this.touch && !this.crossing) this.touch = touchOf(p1, p2, q1, q2);
  }

  /** Length of the shorter way round the ring from the end of edge k to the start of edge m, or back. */
  #loopBetween(k: number, m: number): number {
    const forward = at(this.#lengthSoFar, m) - at(this.#lengthSoFar, k + 1);
    const around =
      at(this.#lengthSoFar, this.#tree.edgeCount) - at(this.#lengthSoFar, m + 1) + at(this.#lengthSoFar, k);
    return Math.min(forward, around);
  }
}

function lengthsAlong({ edges, edgeCount }: EdgeTree): Float64Array {
  const lengths = new Float64Array(edgeCount + 1);
  for (let k = 0; k < edgeCount; k++) {
    const dx = at(edges, 4 * k + 2) - at(edges, 4 * k);
    const dy = at(edges, 4 * k + 3) - at(edges, 4 * k + 1);
    lengths[k + 1] = at(lengths, k) + Math.sqrt(dx * dx + dy * dy);
  }
  return lengths;
}

function touchOf(p1: Point, p2: Point, q1: Point, q2: Point): Point | null {
  const near = (a: Point, b: Point) => Math.abs(a.x - b.x) <= TOUCH_MM && Math.abs(a.y - b.y) <= TOUCH_MM;
  if (near(nearestOnSegment(q1, q2, p1), p1)) return p1;
  if (near(nearestOnSegment(q1, q2, p2), p2)) return p2;
  if (near(nearestOnSegment(p1, p2, q1), q1)) return q1;
  return near(nearestOnSegment(p1, p2, q2), q2) ? q2 : null;
}
