import { differenceOf, unionOf } from '../geometry/boolean.js';
import { type Bounds, boundsGrown, boundsOf } from '../geometry/bounds.js';
import { eachMeetingPair } from '../geometry/box-pairs.js';
import { croppedTo } from '../geometry/crop.js';
import { regionsMeet } from '../geometry/distance.js';
import type { Region } from '../geometry/point.js';
import { clusters } from './clusters.js';

/** An area at one depth. */
export interface Level {
  readonly depthMm: number;
  readonly region: Region;
}

/** A connected area, whole and split by depth, shallowest first. */
export interface CutArea {
  readonly region: Region;
  readonly levels: readonly Level[];
}

interface Piece extends Level {
  readonly owner: CutArea;
  readonly bounds: Bounds;
}

/** So far outside a piece nothing that is taken away there can change it, mm. */
const MARGIN_MM = 0.1;

/**
 * Joins areas that overlap: the deeper wins and every place counts once. Only what meets is compared, and of a deeper
 * neighbour only what lies near: an overlap is mostly a gate's end in a large cavity.
 */
export function joinedByDepth(areas: readonly CutArea[]): CutArea {
  const pieces: readonly Piece[] = areas
    .flatMap((owner) => owner.levels.map((level) => ({ ...level, owner, bounds: boundsOf(level.region) })))
    .sort((a, b) => a.depthMm - b.depthMm);
  const sameDepth: [number, number][] = [];
  const deeper: number[][] = pieces.map(() => []);
  eachMeetingPair(
    pieces.map(({ bounds }) => bounds),
    (i, j) => {
      const [shallow, deep] = [Math.min(i, j), Math.max(i, j)];
      const [a, b] = [pieces[shallow] as Piece, pieces[deep] as Piece];
      if (a.owner === b.owner || !regionsMeet(a.region, b.region)) return;
      if (a.depthMm === b.depthMm) sameDepth.push([shallow, deep]);
      else (deeper[shallow] as number[]).push(deep);
    },
  );
  const parts = clusters(pieces.length, sameDepth).flatMap((members) => {
    const here = members.map((i) => (pieces[i] as Piece).region);
    const joined = here.length === 1 ? (here[0] as Region) : unionOf(here);
    const over = [...new Set(members.flatMap((i) => deeper[i] as number[]))];
    const region =
      over.length === 0
        ? joined
        : lessDeeper(
            joined,
            over.map((i) => (pieces[i] as Piece).region),
          );
    return region.length === 0 ? [] : { depthMm: (pieces[members[0] as number] as Piece).depthMm, region };
  });
  const levels = byDepth(parts);
  const [only] = levels;
  if (only && levels.length === 1) return { region: only.region, levels };
  return { region: unionOf(areas.map(({ region }) => region)), levels };
}

function lessDeeper(region: Region, deeper: readonly Region[]): Region {
  const box = boundsGrown(boundsOf(region), MARGIN_MM);
  return differenceOf(region, ...deeper.map((other) => croppedTo(other, box)));
}

/** Parts of one depth together, in the order of their depth. */
export function byDepth(parts: readonly Level[]): readonly Level[] {
  const regions = new Map<number, Region[]>();
  for (const { depthMm, region } of parts) {
    const same = regions.get(depthMm);
    if (same) same.push(region);
    else regions.set(depthMm, [region]);
  }
  return [...regions].sort(([a], [b]) => a - b).map(([depthMm, same]) => ({ depthMm, region: same.flat() }));
}
