import { Clipper64, ClipType, FillRule, type Paths64 } from 'clipper2-ts';
import { type Corner, cornerOf, fromGrid, toGrid } from './clipper-grid.js';
import { refuseIntricate } from './intricacy.js';
import type { Region } from './point.js';

/**
 * All that lies in any of the regions. Regions may overlap or share edges.
 * @throws TooIntricate
 */
export function unionOf(regions: readonly Region[]): Region {
  return combine(ClipType.Union, regions, []);
}

/** What lies in `region` and in none of `cuts`; rings of a cut may overlap. */
export function differenceOf(region: Region, ...cuts: readonly Region[]): Region {
  return combine(ClipType.Difference, [region], cuts);
}

/** What lies both in `a` and in `b`. */
export function intersectionOf(a: Region, b: Region): Region {
  return combine(ClipType.Intersection, [a], [b]);
}

function combine(operation: ClipType, subjects: readonly Region[], clips: readonly Region[]): Region {
  const regions = [...subjects, ...clips];
  refuseIntricate(regions.flat());
  const corner = cornerOf(regions);
  const clipper = new Clipper64();
  clipper.preserveCollinear = false;
  clipper.addSubject(pathsOf(subjects, corner));
  if (clips.length > 0) clipper.addClip(pathsOf(clips, corner));
  const solution: Paths64 = [];
  clipper.execute(operation, FillRule.NonZero, solution);
  return fromGrid(solution, corner);
}

function pathsOf(regions: readonly Region[], corner: Corner): Paths64 {
  return regions.flatMap((region) => region.map((ring) => toGrid(ring, corner)));
}
