import type { Point, Region, Ring } from './point.js';

/** Area of a region and how it is spread, for areas, centres of force and bending of a land. */
export interface Moments {
  readonly areaMm2: number;
  readonly centroid: Point;
  /** Second moment of area about the centroid, integral of y² dA, mm4. */
  readonly ixxMm4: number;
  /** Integral of x² dA about the centroid, mm4. */
  readonly iyyMm4: number;
  /** Integral of x y dA about the centroid, mm4. */
  readonly ixyMm4: number;
}

/** Signed area of one ring, mm2: positive when it runs counter-clockwise. */
export function ringAreaOf(ring: Ring): number {
  const last = ring.at(-1);
  const first = ring[0];
  if (!first || !last) return 0;
  let twice = 0;
  let ax = last.x - first.x;
  let ay = last.y - first.y;
  for (const point of ring) {
    const bx = point.x - first.x;
    const by = point.y - first.y;
    twice += ax * by - bx * ay;
    ax = bx;
    ay = by;
  }
  return twice / 2;
}

/** Area of a region, holes taken out, mm2. */
export function areaOf(region: Region): number {
  return region.reduce((sum, ring) => sum + ringAreaOf(ring), 0);
}

/**
 * Area, centroid and second moments of a region, by Green's theorem over its edges. Worked about a point of the
 * region, so that a drawing far from its origin loses no figures. All zero, at (0, 0), for an empty region.
 */
export function momentsOf(region: Region): Moments {
  const pole = region[0]?.[0] ?? { x: 0, y: 0 };
  let area = 0;
  let sx = 0;
  let sy = 0;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (const ring of region) {
    const last = ring.at(-1) ?? pole;
    let ax = last.x - pole.x;
    let ay = last.y - pole.y;
    for (const point of ring) {
      const bx = point.x - pole.x;
      const by = point.y - pole.y;
      const cross = ax * by - bx * ay;
      area += cross;
      sx += cross * (ax + bx);
      sy += cross * (ay + by);
      xx += cross * (ax * ax + ax * bx + bx * bx);
      yy += cross * (ay * ay + ay * by + by * by);
      xy += cross * (ax * by + 2 * ax * ay + 2 * bx * by + bx * ay);
      ax = bx;
      ay = by;
    }
  }
  const areaMm2 = area / 2;
  if (areaMm2 === 0) return { areaMm2: 0, centroid: pole, ixxMm4: 0, iyyMm4: 0, ixyMm4: 0 };
  const cx = sx / (6 * areaMm2);
  const cy = sy / (6 * areaMm2);
  return {
    areaMm2,
    centroid: { x: pole.x + cx, y: pole.y + cy },
    ixxMm4: yy / 12 - areaMm2 * cy * cy,
    iyyMm4: xx / 12 - areaMm2 * cx * cx,
    ixyMm4: xy / 24 - areaMm2 * cx * cy,
  };
}
