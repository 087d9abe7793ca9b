import type { Point } from '../geometry/point.js';
import type { DrawingReason } from './drawing-refusal.js';
import type { Chain } from './join-ends.js';
import type { FeatureLayer } from './layer-name.js';

/** With more open chains than this only their own ends are looked at: it is no single gap then. */
const MOST_COMPARED = 200;
/** Features that may be open lines, had their layer a width. */
const MAY_BE_LINES = new Set(['RUNNER', 'GATE', 'VENT', 'WATER']);

/** One reason for each gap: from an open end to the open end nearest to it, its own chain's other end included. */
export function openEndReasons(layer: FeatureLayer, chains: readonly Chain[]): DrawingReason[] {
  const open = chains.filter(({ closed }) => !closed);
  const code = MAY_BE_LINES.has(layer.feature) ? 'drawing-open-path-without-width' : 'drawing-contour-open';
  const ends = open.flatMap(({ entity, points }) => [
    { entity, at: points[0] as Point },
    { entity, at: points.at(-1) as Point },
  ]);
  const told = new Set<number>();
  const reasons: DrawingReason[] = [];
  ends.forEach(({ entity, at }, i) => {
    if (told.has(i)) return;
    const j = open.length > MOST_COMPARED ? i ^ 1 : nearestTo(i, ends);
    const to = (ends[j] as { at: Point }).at;
    told.add(i).add(j);
    reasons.push({ code, layer: layer.name, entity, at, to, lengthMm: distance(at, to) });
  });
  return reasons;
}

function nearestTo(i: number, ends: readonly { readonly at: Point }[]): number {
  const { at } = ends[i] as { at: Point };
  let nearest = i ^ 1;
  ends.forEach((other, j) => {
    if (j !== i && distance(at, other.at) < distance(at, (ends[nearest] as { at: Point }).at)) nearest = j;
  });
  return nearest;
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}
