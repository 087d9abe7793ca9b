import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Cure, Finding } from '../finding.js';
import { boundsMeet, boundsOf } from '../geometry/bounds.js';
import { regionContains } from '../geometry/contains.js';
import { distanceBetween, regionsMeet, type Separation } from '../geometry/distance.js';
import type { Region } from '../geometry/point.js';
import { polygonsOf } from '../geometry/polygons.js';
import { MEETS_MM } from './wall.js';

/**
 * Does an open way lead from the feed to every cavity? The figure is the number of cavities it leads to. Cuts that
 * come as near as 0.01 mm run into one another on the machine and count as joined. A cavity without a way stays empty
 * while the others take its share: a caution, as nothing is hurt but the plate.
 */
export function checkFeedPath({
  drawing,
}: {
  readonly drawing: Pick<MeasuredDrawing, 'projected' | 'cavities' | 'feed'>;
}): Finding {
  const { reached, others } = partsReached(drawing);
  const isReached = ({ region: [rim] }: { readonly region: Region }) =>
    others.length === 0 || reached.some((part) => meets(part, rim === undefined ? [] : [rim]));
  const missing = drawing.cavities.flatMap((cavity, index) => (isReached(cavity) ? [] : [index]));
  const fed = drawing.cavities.length - missing.length;
  return {
    check: 'feed-path',
    verdict: missing.length > 0 ? 'caution' : 'clear',
    situation: missing.length > 0 ? 'not-joined' : 'joined',
    figure: fed,
    limit: drawing.cavities.length,
    allowed: 'at-least',
    unit: '',
    margin: missing.length > 0 ? -missing.length : null,
    figures: { cavities: drawing.cavities.length, fed, cavityNumbers: missing.map((index) => index + 1) },
    places: missing.flatMap((index) => drawing.cavities[index]?.centroid ?? []),
    cures: missing.length > 0 ? joining(reached, others, drawing.feed.at) : [],
    source: 'geometry of the cuts',
    basis: 'computed',
  };
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
