import { ringAreaOf } from './area.js';
import { type Bounds, boundsHave, boundsOf, boundsOfPoints } from './bounds.js';
import { ringContains } from './contains.js';
import { Effort } from './effort.js';
import type { Point, Region, Ring } from './point.js';

/** What sorting holes into outlines may take: some thousand of each. */
const COMPARISONS = 20_000_000;

/**
 * The connected parts of a region, each one outer ring with its holes.
 * @throws TooIntricate when a region has very many of both
 */
export function polygonsOf(region: Region): readonly Region[] {
  const holes: Ring[] = [];
  const parts: { outer: Ring; areaMm2: number; bounds: Bounds; rings: Ring[] }[] = [];
  for (const ring of region) {
    const areaMm2 = ringAreaOf(ring);
    if (areaMm2 < 0) holes.push(ring);
    else if (areaMm2 > 0) parts.push({ outer: ring, areaMm2, bounds: boundsOfPoints(ring), rings: [ring] });
  }
  if (parts.length === 1) return [region];
  const effort = new Effort(COMPARISONS);
  parts.sort((a, b) => a.areaMm2 - b.areaMm2);
  for (const hole of holes) {
    const size = -ringAreaOf(hole);
    const place = interiorPointOf([hole]);
    const around = parts.find(({ outer, areaMm2, bounds }) => {
      effort.spend(1);
      return areaMm2 > size && boundsHave(bounds, place) && ringContains(outer, place);
    });
    around?.rings.push(hole);
  }
  return parts.map(({ rings }) => rings);
}

/** A point well inside a region: the middle of its widest stretch at half its height. */
export function interiorPointOf(region: Region): Point {
  const { minY, maxY } = boundsOf(region);
  const y = (minY + maxY) / 2;
  const crossings: number[] = [];
  for (const ring of region) {
    let a = ring.at(-1);
    for (const b of ring) {
      if (a && a.y > y !== b.y > y) crossings.push(b.x + ((a.x - b.x) * (y - b.y)) / (a.y - b.y));
      a = b;
    }
  }
  crossings.sort((a, b) => a - b);
  let widest = -1;
  let x = region[0]?.[0]?.x ?? 0;
  for (let i = 0; i + 1 < crossings.length; i += 2) {
    const [left, right] = [crossings[i] as number, crossings[i + 1] as number];
    if (right - left > widest) {
      widest = right - left;
      x = (left + right) / 2;
    }
  }
  return { x, y };
}
