import { ringAreaOf } from './area.js';
import { boundsOf } from './bounds.js';
import { ringContains } from './contains.js';
import type { Point, Region, Ring } from './point.js';

/** The connected parts of a region, each one outer ring with its holes. */
export function polygonsOf(region: Region): readonly Region[] {
  const outers = region.filter((ring) => ringAreaOf(ring) > 0);
  if (outers.length <= 1) return outers.length === 0 ? [] : [region];
  const polygons = outers.map((outer): { outer: Ring; areaMm2: number; rings: Ring[] } => ({
    outer,
    areaMm2: ringAreaOf(outer),
    rings: [outer],
  }));
  polygons.sort((a, b) => a.areaMm2 - b.areaMm2);
  for (const hole of region) {
    const areaMm2 = -ringAreaOf(hole);
    if (areaMm2 <= 0) continue;
    const place = interiorPointOf([hole]);
    polygons
      .find(({ outer, areaMm2: room }) => room > areaMm2 && ringContains(outer, place))
      ?.rings.push(hole);
  }
  return polygons.map(({ rings }) => rings);
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
