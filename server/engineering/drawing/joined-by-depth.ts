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
  /** Index of the area it is part of. */
  readonly owner: number;
  readonly bounds: Bounds;
}

/** So far outside a piece nothing that is taken away there can change it, mm. */
const MARGIN_MM = 0.1;

/**
 * Joins areas that overlap: the deeper wins and every place counts once. Only what meets is compared, and of a deeper
 * neighbour only what lies near: an overlap is mostly a gate's end in a large cavity.
 */
export function joinedByDepth(areas: readonly CutArea[]): readonly CutArea[] {
  const pieces: readonly Piece[] = areas
    .flatMap(({ levels }, owner) =>
      levels.map((level) => ({ ...level, owner, bounds: boundsOf(level.region) })),
    )
    .sort((a, b) => a.depthMm - b.depthMm);
  const { sameDepth, deeper, owners } = meetings(pieces);
  const parts = clusters(pieces.length, sameDepth).flatMap((members) => {
    const { depthMm, owner } = pieces[members[0] as number] as Piece;
    const regionsOf = (indices: readonly number[]) => indices.map((i) => (pieces[i] as Piece).region);
    const over = [...new Set(members.flatMap((i) => deeper[i] as number[]))];
    const region = lessDeeper(joinedRegion(regionsOf(members)), regionsOf(over));
    return region.length === 0 ? [] : { depthMm, owner, region };
  });
  const partsOf: Level[][] = areas.map(() => []);
  for (const { owner, ...level } of parts) partsOf[owner]?.push(level);
  return clusters(areas.length, owners).map((members) => {
    if (members.length === 1) return areas[members[0] as number] as CutArea;
    const levels = byDepth(members.flatMap((i) => partsOf[i] as Level[]));
    const [only] = levels;
    if (only && levels.length === 1) return { region: only.region, levels };
    return { region: unionOf(members.map((i) => (areas[i] as CutArea).region)), levels };
  });
}

/** Which pieces of different areas meet, at one depth or one deeper than the other, and so which areas do. */
function meetings(pieces: readonly Piece[]) {
  const sameDepth: [number, number][] = [];
  const deeper: number[][] = pieces.map(() => []);
  const owners: [number, number][] = [];
  eachMeetingPair(
    pieces.map(({ bounds }) => bounds),
    (i, j) => {
      const [shallow, deep] = [Math.min(i, j), Math.max(i, j)];
      const [a, b] = [pieces[shallow] as Piece, pieces[deep] as Piece];
      if (a.owner === b.owner || !regionsMeet(a.region, b.region)) return;
      owners.push([a.owner, b.owner]);
      if (a.depthMm === b.depthMm) sameDepth.push([shallow, deep]);
      else (deeper[shallow] as number[]).push(deep);
    },
  );
  return { sameDepth, deeper, owners };
}

function joinedRegion(regions: readonly Region[]): Region {
  return regions.length === 1 ? (regions[0] as Region) : unionOf(regions);
}

function lessDeeper(region: Region, deeper: readonly Region[]): Region {
  if (deeper.length === 0) return region;
  const box = boundsGrown(boundsOf(region), MARGIN_MM);
  return differenceOf(
    region,
    deeper.flatMap((other) => croppedTo(other, box)),
  );
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
