import { at, isLeaf, middle } from '../geometry/edge-tree.js';
import type { Point } from '../geometry/point.js';
import type { Rim, TouchingCircle } from './rim.js';

/**
 * The largest circle, up to a radius, that lies in the area and touches its rim at a point with the inward unit normal
 * (nx, ny). Exact against straight edges and their ends. `own` is the edge the point lies on, or one of the two that
 * meet in it.
 */
export function touchingCircle(
  rim: Rim,
  p: Point,
  nx: number,
  ny: number,
  mostMm: number,
  own: number,
): TouchingCircle {
  const search = new Search(rim, p, nx, ny, mostMm, own);
  search.visit(0, 0, rim.tree.edgeCount);
  const { radiusMm, heldBy } = search;
  const centre = { x: p.x + radiusMm * nx, y: p.y + radiusMm * ny };
  const heldAt = { x: p.x + search.heldX, y: p.y + search.heldY };
  const across =
    heldBy < 0 ? 1 : -((heldAt.x - centre.x) * nx + (heldAt.y - centre.y) * ny) / Math.max(radiusMm, 1e-9);
  return { radiusMm, centre, heldBy, heldAt, across };
}

class Search {
  radiusMm: number;
  heldBy = -1;
  /** From the point of touch. */
  heldX = 0;
  heldY = 0;
  readonly #rim: Rim;
  readonly #px: number;
  readonly #py: number;
  readonly #nx: number;
  readonly #ny: number;
  readonly #own: number;

  constructor(rim: Rim, p: Point, nx: number, ny: number, mostMm: number, own: number) {
    this.#rim = rim;
    this.#px = p.x;
    this.#py = p.y;
    this.#nx = nx;
    this.#ny = ny;
    this.#own = own;
    this.radiusMm = mostMm;
  }

  visit(node: number, from: number, to: number): void {
    const { boxes } = this.#rim.tree;
    const r = this.radiusMm;
    const cx = this.#px + r * this.#nx;
    const cy = this.#py + r * this.#ny;
    if (at(boxes, 4 * node) > cx + r || at(boxes, 4 * node + 2) < cx - r) return;
    if (at(boxes, 4 * node + 1) > cy + r || at(boxes, 4 * node + 3) < cy - r) return;
    if (!isLeaf(from, to)) {
      const half = middle(from, to);
      this.visit(2 * node + 1, from, half);
      this.visit(2 * node + 2, half, to);
      return;
    }
    for (let k = from; k < to; k++) if (k !== this.#own && this.#rim.open[k] === 0) this.#against(k);
  }

  /** Shrinks the circle until it no longer reaches over an edge. */
  #against(k: number): void {
    const { edges } = this.#rim.tree;
    const ax = at(edges, 4 * k) - this.#px;
    const ay = at(edges, 4 * k + 1) - this.#py;
    const dx = at(edges, 4 * k + 2) - this.#px - ax;
    const dy = at(edges, 4 * k + 3) - this.#py - ay;
    const squared = dx * dx + dy * dy;
    if (squared === 0) return;
    this.#through(ax, ay, k);
    this.#through(ax + dx, ay + dy, k);
    const length = Math.sqrt(squared);
    const mx = -dy / length;
    const my = dx / length;
    // Touching both lines from inside: off + r (m·n) = r, with off the point's distance from the edge's line.
    const off = -(ax * mx + ay * my);
    const slant = 1 - (mx * this.#nx + my * this.#ny);
    if (off <= 0 || slant < 1e-9) return;
    const r = off / slant;
    if (r >= this.radiusMm) return;
    const hx = r * (this.#nx - mx);
    const hy = r * (this.#ny - my);
    const along = ((hx - ax) * dx + (hy - ay) * dy) / squared;
    if (along >= 0 && along <= 1) this.#hold(r, k, hx, hy);
  }

  #through(x: number, y: number, k: number): void {
    const ahead = x * this.#nx + y * this.#ny;
    if (ahead <= 1e-9) return;
    const r = (x * x + y * y) / (2 * ahead);
    if (r < this.radiusMm) this.#hold(r, k, x, y);
  }

  #hold(radiusMm: number, k: number, x: number, y: number): void {
    this.radiusMm = radiusMm;
    this.heldBy = k;
    this.heldX = x;
    this.heldY = y;
  }
}
