import type { Point, Region } from './point.js';

/** An upright box, mm. Empty when `minX > maxX`. */
export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** The smallest upright box round some points, mm; an empty box for none. */
export function boundsOfPoints(points: readonly Point[]): Bounds {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (const { x, y } of points) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

/** The smallest upright box round a region, mm; an empty box for an empty region. */
export function boundsOf(region: Region): Bounds {
  return region.map(boundsOfPoints).reduce(boundsOfBoth, EMPTY_BOUNDS);
}

/** The smallest upright box round two boxes. */
export function boundsOfBoth(a: Bounds, b: Bounds): Bounds {
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  };
}

/** Whether two boxes touch or overlap when one of them is grown by `gapMm` on every side. */
export function boundsMeet(a: Bounds, b: Bounds, gapMm = 0): boolean {
  return (
    a.minX - gapMm <= b.maxX &&
    b.minX - gapMm <= a.maxX &&
    a.minY - gapMm <= b.maxY &&
    b.minY - gapMm <= a.maxY
  );
}

/** Whether the box `outer`, grown by `gapMm` on every side, holds the box `inner`. */
export function boundsHold(outer: Bounds, inner: Bounds, gapMm = 0): boolean {
  return (
    outer.minX - gapMm <= inner.minX &&
    outer.minY - gapMm <= inner.minY &&
    outer.maxX + gapMm >= inner.maxX &&
    outer.maxY + gapMm >= inner.maxY
  );
}

const EMPTY_BOUNDS: Bounds = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };

/** A box grown by `mm` on every side. */
export function boundsGrown({ minX, minY, maxX, maxY }: Bounds, mm: number): Bounds {
  return { minX: minX - mm, minY: minY - mm, maxX: maxX + mm, maxY: maxY + mm };
}

/** Whether a point lies in a box or on its edge. */
export function boundsHave({ minX, minY, maxX, maxY }: Bounds, { x, y }: Point): boolean {
  return minX <= x && x <= maxX && minY <= y && y <= maxY;
}
