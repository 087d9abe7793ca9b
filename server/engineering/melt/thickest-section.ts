import type { Cavity, DepthLevel } from '../drawing/measured-drawing.js';
import { unionOf } from '../geometry/boolean.js';
import { inscribedCircle } from '../geometry/inscribed-circle.js';
import type { Point } from '../geometry/point.js';

/** Where a cavity is thickest: a slab where it is wider than deep, a bar where both count. */
export interface Section {
  readonly depthMm: number;
  /** Diameter of the widest circle that fits where it is at least that deep, mm. */
  readonly widthMm: number;
  /** The lesser of the two, mm. */
  readonly thicknessMm: number;
  readonly at: Point;
}

/** The thickest section of a cavity: of each depth, the lesser of depth and local width; the largest of those. */
export function thickestSection({ levels }: Pick<Cavity, 'levels'>): Section {
  const sections = levels.map(({ depthMm }, i) => sectionFrom(levels.slice(i), depthMm));
  return sections.reduce((best, next) => (next.thicknessMm > best.thicknessMm ? next : best));
}

function sectionFrom(deepEnough: readonly DepthLevel[], depthMm: number): Section {
  const [only, ...others] = deepEnough;
  const region =
    only !== undefined && others.length === 0
      ? only.region
      : unionOf(deepEnough.map((level) => level.region));
  const circle = inscribedCircle(region);
  const widthMm = circle?.diameterMm ?? 0;
  return { depthMm, widthMm, thicknessMm: Math.min(depthMm, widthMm), at: circle?.centre ?? { x: 0, y: 0 } };
}
