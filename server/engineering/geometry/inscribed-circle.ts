import type { Point, Region } from './point.js';
import { distanceMm, pathLengthMm } from './polyline.js';

/** The largest circle that fits in an area. */
export interface InscribedCircle {
  readonly centre: Point;
  readonly diameterMm: number;
}

/** Spots on the rim from which circles are tried; the best is then looked at more closely. */
const SPOTS = 40;
const CLOSER_LOOKS = 16;

const known = new WeakMap<Region, InscribedCircle | null>();

/**
 * The largest circle that fits in a region, islands left out; null for an empty one. From spots along the rim the
 * circle that touches there and reaches as far as it can is worked out exactly; the largest is refined along the rim.
 * Corners that stand into the area, which may hold a circle by themselves, are tried in several directions.
 */
export function inscribedCircle(region: Region): InscribedCircle | null {
  const before = known.get(region);
  if (before !== undefined) return before;
  const found = search(edgesOf(region));
  known.set(region, found);
  return found;
}

/** Diameter of the largest circle that fits in a region, mm; 0 for an empty one. */
export function inscribedDiameterMm(region: Region): number {
  return inscribedCircle(region)?.diameterMm ?? 0;
}

/** Edges one after the other as ax, ay, bx, by and their length; the area lies on their left. */
interface Rim {
  readonly edges: Float64Array;
  readonly count: number;
  readonly girthMm: number;
}

function edgesOf(region: Region): Rim {
  const edges: number[] = [];
  let girthMm = 0;
  for (const ring of region) {
    let a = ring.at(-1);
    for (const b of ring) {
      const lengthMm = a ? distanceMm(a, b) : 0;
      if (a && lengthMm > 0) edges.push(a.x, a.y, b.x, b.y, lengthMm);
      a = b;
    }
    girthMm += pathLengthMm([...ring, ...ring.slice(0, 1)]);
  }
  return { edges: Float64Array.from(edges), count: edges.length / 5, girthMm };
}

interface Touching {
  readonly radiusMm: number;
  readonly centre: Point;
}

function search(rim: Rim): InscribedCircle | null {
  if (rim.count < 3) return null;
  let best = null as Touching | null;
  let bestAlongMm = 0;
  const spacingMm = rim.girthMm / SPOTS;
  const look = (alongMm: number) => {
    const circle = circleTouchingAt(rim, (alongMm + rim.girthMm) % rim.girthMm, best?.radiusMm ?? 0);
    if (circle !== null) [best, bestAlongMm] = [circle, alongMm];
  };
  for (let spot = 0; spot < SPOTS; spot++) look((spot + 0.5) * spacingMm);
  for (let closer = 1, stepMm = spacingMm / 2; closer <= CLOSER_LOOKS / 2; closer++, stepMm *= 0.6) {
    const middleMm = bestAlongMm;
    look(middleMm - stepMm);
    look(middleMm + stepMm);
  }
  const found = reflexCorners(rim).reduce((largest, corner) => largestAtCorner(rim, corner, largest), best);
  return found && { centre: found.centre, diameterMm: 2 * found.radiusMm };
}

/** The largest circle inside that touches the rim so far along it; null where none is larger than `moreThanMm`. */
function circleTouchingAt(rim: Rim, alongMm: number, moreThanMm: number): Touching | null {
  const { edges, count } = rim;
  let leftMm = alongMm;
  let own = 0;
  while (own < count - 1 && leftMm > (edges[5 * own + 4] as number)) leftMm -= edges[5 * own++ + 4] as number;
  const ax = edges[5 * own] as number;
  const ay = edges[5 * own + 1] as number;
  const lengthMm = edges[5 * own + 4] as number;
  const alongX = ((edges[5 * own + 2] as number) - ax) / lengthMm;
  const alongY = ((edges[5 * own + 3] as number) - ay) / lengthMm;
  return circleFrom(rim, ax + alongX * leftMm, ay + alongY * leftMm, -alongY, alongX, own, own, moreThanMm);
}

/**
 * The largest circle that touches at p with its centre along the unit normal n; two edges at p are left out. Null as
 * soon as an edge leaves it no radius above `moreThanMm`.
 */
function circleFrom(
  { edges, count }: Rim,
  px: number,
  py: number,
  nx: number,
  ny: number,
  own: number,
  alsoOwn: number,
  moreThanMm: number,
): Touching | null {
  let radiusMm = Infinity;
  for (let k = 0; k < count; k++) {
    if (k === own || k === alsoOwn) continue;
    radiusMm = Math.min(radiusMm, radiusBeside(edges, 5 * k, px, py, nx, ny));
    if (radiusMm <= moreThanMm) return null;
  }
  if (!Number.isFinite(radiusMm)) return null;
  return { radiusMm, centre: { x: px + radiusMm * nx, y: py + radiusMm * ny } };
}

/** A sharp corner is tried in several directions; what flattening makes of a fillet or an island in one. */
const SHARP = Math.sin((15 * Math.PI) / 180);
const SHARP_DIRECTIONS = 9;
const TURNS = 1e-3;
/** Fillets have a few corners; of an island's many some will do. */
const MOST_ROUNDED = 40;

interface Corner {
  readonly at: Point;
  /** The edges before and after. */
  readonly from: number;
  readonly to: number;
  readonly directions: number;
}

/** Corners that stand into the area. */
function reflexCorners({ edges, count }: Rim): readonly Corner[] {
  const sharp: Corner[] = [];
  const rounded: Corner[] = [];
  for (let from = 0; from < count; from++) {
    const at = { x: edges[5 * from + 2] as number, y: edges[5 * from + 3] as number };
    const to = nextEdge(edges, count, from, at);
    const turn = to < 0 ? 0 : turnAt(edges, from, to);
    if (turn < -SHARP) sharp.push({ at, from, to, directions: SHARP_DIRECTIONS });
    else if (turn < -TURNS) rounded.push({ at, from, to, directions: 1 });
  }
  const every = Math.ceil(rounded.length / MOST_ROUNDED);
  return [...sharp, ...rounded.filter((_, i) => i % every === 0)];
}

function nextEdge(edges: Float64Array, count: number, from: number, at: Point): number {
  if (from + 1 < count && edges[5 * from + 5] === at.x && edges[5 * from + 6] === at.y) return from + 1;
  for (let k = 0; k < count; k++) if (edges[5 * k] === at.x && edges[5 * k + 1] === at.y) return k;
  return -1;
}

function directionOf(edges: Float64Array, k: number): Point {
  const lengthMm = edges[5 * k + 4] as number;
  return {
    x: ((edges[5 * k + 2] as number) - (edges[5 * k] as number)) / lengthMm,
    y: ((edges[5 * k + 3] as number) - (edges[5 * k + 1] as number)) / lengthMm,
  };
}

function turnAt(edges: Float64Array, from: number, to: number): number {
  const [a, b] = [directionOf(edges, from), directionOf(edges, to)];
  return a.x * b.y - a.y * b.x;
}

function largestAtCorner(rim: Rim, { at, from, to, directions }: Corner, largest: Touching | null) {
  const [a, b] = [directionOf(rim.edges, from), directionOf(rim.edges, to)];
  let best = largest;
  for (let i = 0; i < directions; i++) {
    const share = (i + 0.5) / directions;
    const [dx, dy] = [a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share];
    const size = Math.hypot(dx, dy);
    const moreThanMm = best?.radiusMm ?? 0;
    if (size > 0) best = circleFrom(rim, at.x, at.y, -dy / size, dx / size, from, to, moreThanMm) ?? best;
  }
  return best;
}

/** Radius of the circle that touches at p, its centre along the unit normal n, and just reaches an edge. */
function radiusBeside(
  edges: Float64Array,
  k: number,
  px: number,
  py: number,
  nx: number,
  ny: number,
): number {
  const ax = (edges[k] as number) - px;
  const ay = (edges[k + 1] as number) - py;
  const bx = (edges[k + 2] as number) - px;
  const by = (edges[k + 3] as number) - py;
  const lengthMm = edges[k + 4] as number;
  const mx = (ay - by) / lengthMm;
  const my = (bx - ax) / lengthMm;
  // Touching the edge from its inner side: off + r (m n) = r, with off the distance of p from the edge's line.
  const off = -(ax * mx + ay * my);
  const slant = 1 - (mx * nx + my * ny);
  if (off > 0 && slant > 1e-9) {
    const radiusMm = off / slant;
    const along =
      ((radiusMm * (nx - mx) - ax) * (bx - ax) + (radiusMm * (ny - my) - ay) * (by - ay)) / lengthMm;
    if (along >= 0 && along <= lengthMm) return radiusMm;
  }
  return Math.min(radiusThrough(ax, ay, nx, ny), radiusThrough(bx, by, nx, ny));
}

/** Through the point at (x, y) from p. */
function radiusThrough(x: number, y: number, nx: number, ny: number): number {
  const ahead = x * nx + y * ny;
  return ahead > 1e-9 ? (x * x + y * y) / (2 * ahead) : Infinity;
}
