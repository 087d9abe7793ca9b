import { areaOf } from '../geometry/area.js';
import { intersectionOf } from '../geometry/boolean.js';
import { outlinesMeet, regionsMeet } from '../geometry/distance.js';
import type { Region } from '../geometry/point.js';
import type { CutArea } from './joined-by-depth.js';
import type { DepthLevel, MeasuredFeature } from './measured-drawing.js';

/** Areas of one feature, added up. Null where nothing is cut. */
export function measuredFeature(areas: readonly CutArea[]): MeasuredFeature | null {
  if (areas.length === 0) return null;
  const levels = measuredLevels(areas);
  return {
    region: areas.flatMap(({ region }) => region),
    areaMm2: sum(levels.map(({ areaMm2 }) => areaMm2)),
    volumeMm3: volumeOf(levels),
    maxDepthMm: levels.at(-1)?.depthMm ?? 0,
    levels,
  };
}

/** The levels of areas that do not overlap, shallowest first, those of one depth together. */
export function measuredLevels(areas: readonly CutArea[]): readonly DepthLevel[] {
  const byDepth = new Map<number, Region[]>();
  for (const { depthMm, region } of areas.flatMap(({ levels }) => levels)) {
    const same = byDepth.get(depthMm);
    if (same) same.push(region);
    else byDepth.set(depthMm, [region]);
  }
  return [...byDepth]
    .sort(([a], [b]) => a - b)
    .map(([depthMm, regions]) => {
      const region = regions.flat();
      return { depthMm, region, areaMm2: areaOf(region) };
    });
}

export function volumeOf(levels: readonly DepthLevel[]): number {
  return sum(levels.map(({ depthMm, areaMm2 }) => depthMm * areaMm2));
}

/** What of some areas lies on the plate. */
export function insidePlate(areas: readonly CutArea[], plate: Region): readonly CutArea[] {
  return areas.flatMap((area) => {
    if (!outlinesMeet(area.region, plate, TOUCH_MM)) return regionsMeet(area.region, plate) ? area : [];
    const levels = area.levels.flatMap(({ depthMm, region }) => {
      const inside = intersectionOf(region, plate);
      return inside.length === 0 ? [] : { depthMm, region: inside };
    });
    const [only] = levels;
    if (!only) return [];
    return { region: levels.length === 1 ? only.region : intersectionOf(area.region, plate), levels };
  });
}

const TOUCH_MM = 1e-6;

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
