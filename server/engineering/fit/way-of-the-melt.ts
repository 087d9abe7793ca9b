import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure } from '../finding.js';
import { boundsMeet, boundsOf } from '../geometry/bounds.js';
import { regionContains } from '../geometry/contains.js';
import { distanceBetween, regionsMeet, type Separation } from '../geometry/distance.js';
import type { Region } from '../geometry/point.js';
import { polygonsOf } from '../geometry/polygons.js';
import { MEETS_MM } from './wall.js';

/** Cavities that no open way leads to from the feed. */
export interface Unfed {
  /** Indices into the drawing's cavities; never empty. */
  readonly cavities: readonly number[];
  /** The shortest cut that would join the nearest of them. */
  readonly cures: readonly Cure[];
}

/**
 * Does an open way lead from the feed to every cavity? Null when it does. Cuts that come as near as 0.01 mm run into
 * one another on the machine and count as joined. Whether the way is wide enough is not judged here.
 */
export function unfedCavities(
  drawing: Pick<MeasuredDrawing, 'projected' | 'cavities' | 'feed'>,
): Unfed | null {
  const { reached, others } = partsReached(drawing);
  if (others.length === 0) return null;
  const isReached = ({ region: [rim] }: { readonly region: Region }) =>
    reached.some((part) => meets(part, rim === undefined ? [] : [rim]));
  const cavities = drawing.cavities.flatMap((cavity, index) => (isReached(cavity) ? [] : [index]));
  return cavities.length === 0 ? null : { cavities, cures: joining(reached, others, drawing.feed.at) };
}

/** The connected parts of what fills with melt: those the feed leads to, and the rest. */
function partsReached({ projected, feed }: Pick<MeasuredDrawing, 'projected' | 'feed'>): {
  readonly reached: readonly Region[];
  readonly others: readonly Region[];
} {
  const parts = polygonsOf(projected.region);
  if (parts.length <= 1) return { reached: parts, others: [] };
  const reached: Region[] = [];
  let others = parts;
  let next = parts.filter((part) => regionContains(part, feed.at));
  while (next.length > 0) {
    reached.push(...next);
    others = others.filter((part) => !next.includes(part));
    next = others.filter((part) => next.some((from) => meets(from, part)));
  }
  return { reached, others };
}

function meets(one: Region, other: Region): boolean {
  if (!boundsMeet(boundsOf(one), boundsOf(other), MEETS_MM)) return false;
  return regionsMeet(one, other) || (distanceBetween(one, other)?.distanceMm ?? MEETS_MM) < MEETS_MM;
}

/** The shortest cut that would join the nearest of the others, from where to where on the drawing. */
function joining(
  reached: readonly Region[],
  others: readonly Region[],
  feed: { readonly x: number; readonly y: number },
): readonly Cure[] {
  const from: readonly Region[] = reached.length > 0 ? reached : [[[feed]]];
  const ways = others.flatMap((other) => from.flatMap((part) => distanceBetween(part, other) ?? []));
  const nearest = ways.reduce<Separation | null>(
    (best, way) => (best === null || way.distanceMm < best.distanceMm ? way : best),
    null,
  );
  if (nearest === null) return [];
  const { from: start, to, distanceMm } = nearest;
  const figures = { fromXMm: start.x, fromYMm: start.y, toXMm: to.x, toYMm: to.y };
  return [{ code: 'join-cuts', amount: distanceMm, unit: 'mm', figures, at: to }];
}
