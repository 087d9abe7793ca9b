import type { Point, Region, Ring } from '../engineering/geometry/point.js';

/** Points nearer than this to the line they stand on are left out of a picture, mm: under a fifth of a pixel. */
const PICTURE_TOLERANCE_MM = 0.04;

/**
 * Path data of a region as placed, in whole hundredths and relative steps, which is the shortest exact way.
 *
 * @param toleranceMm how far a point may lie from the line drawn instead of it
 */
export function regionPath(
  region: Region,
  place: (point: Point) => Point,
  toleranceMm = PICTURE_TOLERANCE_MM,
): string {
  return region.map((ring) => ringPath(ring, place, toleranceMm)).join('');
}

function ringPath(ring: Ring, place: (point: Point) => Point, toleranceMm: number): string {
  const points = thinned(ring, toleranceMm).map(place);
  let data = '';
  let atX = 0;
  let atY = 0;
  for (const point of points) {
    const x = Math.round(point.x * 100);
    const y = Math.round(point.y * 100);
    if (data !== '' && x === atX && y === atY) continue;
    data += data === '' ? `M${x / 100} ${y / 100}l` : `${step(x - atX)}${step(y - atY)}`;
    atX = x;
    atY = y;
  }
  return data === '' ? '' : `${data}z`;
}

/** A signed step; its sign parts it from the number before. */
function step(hundredths: number): string {
  const written = String(hundredths / 100);
  return hundredths < 0 ? written : ` ${written}`;
}

/** Ramer's line simplification on a closed ring, begun at its first point and the one farthest from it. */
function thinned(ring: Ring, toleranceMm: number): Ring {
  const first = ring[0];
  if (ring.length < 8 || !first) return ring;
  let farthest = 0;
  let span = 0;
  for (const [index, point] of ring.entries()) {
    const distance = Math.hypot(point.x - first.x, point.y - first.y);
    if (distance > span) {
      span = distance;
      farthest = index;
    }
  }
  const closed = [...ring, first];
  return [
    ...kept(closed.slice(0, farthest + 1), toleranceMm).slice(0, -1),
    ...kept(closed.slice(farthest), toleranceMm).slice(0, -1),
  ];
}

function kept(points: Ring, toleranceMm: number): Ring {
  const keep = new Uint8Array(points.length);
  keep[0] = 1;
  keep[points.length - 1] = 1;
  const open: [number, number][] = [[0, points.length - 1]];
  for (let span = open.pop(); span; span = open.pop()) {
    const [from, to] = span;
    const worst = farthestFromChord(points, from, to, toleranceMm);
    if (worst === null) continue;
    keep[worst] = 1;
    open.push([from, worst], [worst, to]);
  }
  return points.filter((_point, index) => keep[index] === 1);
}

function farthestFromChord(points: Ring, from: number, to: number, toleranceMm: number): number | null {
  const a = points[from];
  const b = points[to];
  if (!a || !b) return null;
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const length = Math.hypot(dx, dy);
  let worst: number | null = null;
  let most = toleranceMm;
  for (let index = from + 1; index < to; index += 1) {
    const p = points[index];
    if (!p) continue;
    const off =
      length === 0
        ? Math.hypot(p.x - a.x, p.y - a.y)
        : Math.abs(dx * (p.y - a.y) - dy * (p.x - a.x)) / length;
    if (off > most) {
      most = off;
      worst = index;
    }
  }
  return worst;
}
