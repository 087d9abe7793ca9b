import { differenceOf, unionOf } from '../geometry/boolean.js';
import { regionsMeet } from '../geometry/distance.js';
import type { Region } from '../geometry/point.js';

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

/** Joins areas that overlap: the deeper wins and every place counts once. */
export function joinedByDepth(areas: readonly Level[]): CutArea {
  const depths = [...new Set(areas.map(({ depthMm }) => depthMm))].sort((a, b) => a - b);
  const levels = depths.flatMap((depthMm) => {
    const here = regionsWhere(areas, (depth) => depth === depthMm);
    const joined = here.length === 1 ? (here[0] as Region) : unionOf(here);
    const deeper = regionsWhere(areas, (depth) => depth > depthMm).filter((other) =>
      regionsMeet(other, joined),
    );
    const region = deeper.length === 0 ? joined : differenceOf(joined, ...deeper);
    return region.length === 0 ? [] : { depthMm, region };
  });
  const [only] = levels;
  if (only && levels.length === 1) return { region: only.region, levels };
  return { region: unionOf(areas.map(({ region }) => region)), levels };
}

function regionsWhere(areas: readonly Level[], holds: (depthMm: number) => boolean): Region[] {
  return areas.filter(({ depthMm }) => holds(depthMm)).map(({ region }) => region);
}
