import { ringAreaOf } from '../geometry/area.js';
import type { Point, Ring } from '../geometry/point.js';
import type { Rim, TouchingCircle } from './rim.js';
import { touchingCircle } from './touching-circle.js';

/** Where an area that a cutter works in is narrowest. */
export interface NarrowPlace {
  readonly widthMm: number;
  readonly at: Point;
}

/** Walls that meet at less than 20° are the two sides of a slit; at more they make a corner. */
const ACROSS = -0.94;
/** A wall that turns outwards by more than this has an edge of its own that a cutter must pass, rad. */
const EDGE_TURN = Math.PI / 9;
/** On the far side of a wall, far enough to be past its chord error, mm. */
const BEYOND_MM = 0.03;
/** Along curves a circle is tried no oftener than this, mm. */
const SPACING_MM = 0.7;
const MOST_SPOTS = 24;
/** Places this much narrower than another are no narrower: curves are flattened, mm. */
const SAME_WIDTH_MM = 0.005;
const CLOSER_LOOKS = 10;

/**
 * The narrowest place of an area, so far as it is narrower than `mostMm`: a channel, a neck, or a pocket that is small
 * all over. From spots along the walls the largest circle that touches there is worked out exactly. Null where a
 * cutter of `mostMm` has room everywhere but in corners.
 *
 * @param cutAsDeep whether some other cut is at least as deep at a point: there is no wall then
 */
export function narrowestPlace(
  rim: Rim,
  mostMm: number,
  cutAsDeep: (at: Point) => boolean,
): NarrowPlace | null {
  const walls = new Walls(rim, mostMm / 2, cutAsDeep);
  let edge = 0;
  for (const ring of rim.own) {
    walls.lookAlong(ring, edge);
    edge += ring.length;
  }
  return walls.narrowest;
}

class Walls {
  narrowest: NarrowPlace | null = null;
  readonly #rim: Rim;
  readonly #mostMm: number;
  readonly #cutAsDeep: (at: Point) => boolean;

  constructor(rim: Rim, mostRadiusMm: number, cutAsDeep: (at: Point) => boolean) {
    this.#rim = rim;
    this.#mostMm = mostRadiusMm;
    this.#cutAsDeep = cutAsDeep;
  }

  lookAlong(ring: Ring, firstEdge: number): void {
    const largest = this.#alongEdges(ring, firstEdge, false);
    this.#roundEdges(ring, firstEdge);
    if (largest === null || largest.heldBy < 0 || ringAreaOf(ring) < 0) return;
    if (!this.#isNarrower(largest)) return;
    // Small all over, unless what held the circles was no wall.
    const surely = this.#alongEdges(ring, firstEdge, true);
    if (surely !== null && surely.heldBy >= 0 && this.#isNarrower(surely)) this.#keep(surely);
  }

  /** The largest circle along a ring; slits are kept on the way. Null where nothing of it is a wall. */
  #alongEdges(ring: Ring, firstEdge: number, sure: boolean): TouchingCircle | null {
    let largest: TouchingCircle | null = null;
    let a = ring.at(-1);
    let edge = firstEdge;
    let sinceMm = Infinity;
    for (const b of ring) {
      const length = a ? Math.hypot(b.x - a.x, b.y - a.y) : 0;
      sinceMm += length;
      if (a && length > 0 && (sure || sinceMm > SPACING_MM) && this.#rim.open[edge] === 0) {
        sinceMm = 0;
        const spots = Math.min(MOST_SPOTS, Math.max(sure ? 3 : 1, Math.ceil(length / this.#mostMm / 2)));
        const [nx, ny] = [(a.y - b.y) / length, (b.x - a.x) / length];
        for (let spot = 0; spot < spots; spot++) {
          const part = (spot + 0.5) / spots;
          const p = { x: a.x + part * (b.x - a.x), y: a.y + part * (b.y - a.y) };
          const circle = this.#circleAt(p, nx, ny, edge, sure);
          if (circle !== null && circle.radiusMm > (largest?.radiusMm ?? 0)) largest = circle;
        }
      }
      a = b;
      edge++;
    }
    return largest;
  }

  /** Where a wall turns outwards, the circle between its edge and whatever lies across. */
  #roundEdges(ring: Ring, firstEdge: number): void {
    const count = ring.length;
    for (let i = 0; i < count; i++) {
      const [a, v, b] = [ring[(i + count - 1) % count], ring[i], ring[(i + 1) % count]] as [
        Point,
        Point,
        Point,
      ];
      const from = Math.atan2(v.y - a.y, v.x - a.x);
      let turn = Math.atan2(b.y - v.y, b.x - v.x) - from;
      if (turn > Math.PI) turn -= 2 * Math.PI;
      if (turn < -Math.PI) turn += 2 * Math.PI;
      if (turn > -EDGE_TURN) continue;
      if (this.#rim.open[firstEdge + i] === 1 || this.#rim.open[firstEdge + ((i + 1) % count)] === 1)
        continue;
      this.#roundEdge(v, from + Math.PI / 2, turn);
    }
  }

  #roundEdge(v: Point, from: number, turn: number): void {
    const at = (part: number, sure: boolean) => {
      const angle = from + part * turn;
      return this.#circleAt(v, Math.cos(angle), Math.sin(angle), -1, sure);
    };
    let best = 0.5;
    let least = Infinity;
    for (let step = 1 / 8, part = step / 2; part < 1; part += step) {
      const radiusMm = at(part, false)?.radiusMm ?? Infinity;
      if (radiusMm < least) [least, best] = [radiusMm, part];
    }
    for (let look = 0, step = 1 / 16; look < CLOSER_LOOKS && least < this.#mostMm; look++, step *= 0.6) {
      for (const part of [best - step, best + step]) {
        const radiusMm = part < 0 || part > 1 ? Infinity : (at(part, false)?.radiusMm ?? Infinity);
        if (radiusMm < least) [least, best] = [radiusMm, part];
      }
    }
    at(best, false);
  }

  /**
   * The circle at a spot; kept when it lies in a slit. What holds it is looked at only when that matters: where it turns
   * out to be no wall, the circle grows on. Null where the spot itself is on none.
   */
  #circleAt(p: Point, nx: number, ny: number, own: number, sure: boolean): TouchingCircle | null {
    const passed: number[] = [];
    const { open } = this.#rim;
    let circle = touchingCircle(this.#rim, p, nx, ny, this.#mostMm, own);
    while (circle.heldBy >= 0) {
      const slit = circle.across < ACROSS && this.#isNarrower(circle);
      if (!slit && !sure) break;
      if (passed.length === 0 && this.#cutAsDeep({ x: p.x - BEYOND_MM * nx, y: p.y - BEYOND_MM * ny }))
        return null;
      if (!this.#isOpenWhereHeld(circle)) {
        if (slit) this.#keep(circle);
        break;
      }
      passed.push(circle.heldBy);
      open[circle.heldBy] = 1;
      circle = touchingCircle(this.#rim, p, nx, ny, this.#mostMm, own);
    }
    for (const edge of passed) open[edge] = 0;
    return circle;
  }

  #isOpenWhereHeld({ centre, heldAt, radiusMm }: TouchingCircle): boolean {
    const out = 1 + BEYOND_MM / Math.max(radiusMm, BEYOND_MM);
    return this.#cutAsDeep({
      x: centre.x + out * (heldAt.x - centre.x),
      y: centre.y + out * (heldAt.y - centre.y),
    });
  }

  #isNarrower({ radiusMm }: TouchingCircle): boolean {
    return 2 * radiusMm < (this.narrowest?.widthMm ?? Infinity) - SAME_WIDTH_MM;
  }

  #keep({ radiusMm, centre }: TouchingCircle): void {
    this.narrowest = { widthMm: 2 * radiusMm, at: centre };
  }
}
