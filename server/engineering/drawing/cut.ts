import { areaOf } from '../geometry/area.js';
import { differenceOf, intersectionOf } from '../geometry/boolean.js';
import { type Bounds, boundsOf } from '../geometry/bounds.js';
import { ringContains } from '../geometry/contains.js';
import { outlinesMeet, regionsMeet } from '../geometry/distance.js';
import type { Point, Region, Ring } from '../geometry/point.js';

/** One contour or one pass of the cutter, to one depth. */
export interface Cut {
  readonly depthMm: number;
  readonly region: Region;
  readonly bounds: Bounds;
  /** Contours nest like the lines of a map; a pass of the cutter only ever takes metal away. */
  readonly nests: boolean;
}

/** How two cuts of one feature lie: `clear` when their outlines do not touch. */
export type CutRelation =
  | { readonly kind: 'apart' }
  | { readonly kind: 'crossing' }
  | { readonly kind: 'nested'; readonly inner: 0 | 1; readonly clear: boolean };

/** Outlines nearer than two chord errors may be one line drawn twice, mm. */
const SAME_LINE_MM = 0.02;

export function cutOf(depthMm: number, region: Region, nests: boolean): Cut {
  return { depthMm, region, bounds: boundsOf(region), nests };
}

export function relationOf(a: Cut, b: Cut): CutRelation {
  if (!a.nests || !b.nests) return { kind: regionsMeet(a.region, b.region) ? 'crossing' : 'apart' };
  const [ringA, ringB] = [outlineOf(a), outlineOf(b)];
  if (outlinesMeet(a.region, b.region, SAME_LINE_MM)) return relationByArea(a, b);
  if (ringContains(ringB, ringA[0] as Point)) return { kind: 'nested', inner: 0, clear: true };
  if (ringContains(ringA, ringB[0] as Point)) return { kind: 'nested', inner: 1, clear: true };
  return { kind: 'apart' };
}

/** Where outlines touch, what lies outside the other tells; a sliver along a shared line is nothing. */
function relationByArea(a: Cut, b: Cut): CutRelation {
  const sliver = SAME_LINE_MM * Math.min(halfGirth(a.bounds), halfGirth(b.bounds));
  const outsideB = areaOf(differenceOf(a.region, b.region));
  const outsideA = areaOf(differenceOf(b.region, a.region));
  if (outsideB <= sliver && outsideA > sliver) return { kind: 'nested', inner: 0, clear: false };
  if (outsideA <= sliver && outsideB > sliver) return { kind: 'nested', inner: 1, clear: false };
  return { kind: areaOf(intersectionOf(a.region, b.region)) <= sliver ? 'apart' : 'crossing' };
}

function outlineOf({ region }: Cut): Ring {
  return region[0] as Ring;
}

function halfGirth({ minX, minY, maxX, maxY }: Bounds): number {
  return maxX - minX + maxY - minY;
}
