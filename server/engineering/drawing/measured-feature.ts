import { areaOf } from '../geometry/area.js';
import { intersectionOf, unionOf } from '../geometry/boolean.js';
import { outlinesMeet, regionsMeet } from '../geometry/distance.js';
import type { Region } from '../geometry/point.js';
import { byDepth, type CutArea } from './joined-by-depth.js';
import type { DepthLevel, MeasuredFeature } from './measured-drawing.js';

/** Nearer than this, outlines touch, mm. */
const TOUCH_MM = 1e-6;

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
  return byDepth(areas.flatMap(({ levels }) => levels)).map((level) => ({
    ...level,
    areaMm2: areaOf(level.region),
  }));
}

export function volumeOf(levels: readonly DepthLevel[]): number {
  return sum(levels.map(({ depthMm, areaMm2 }) => depthMm * areaMm2));
}

/** What of some areas lies on the plate. */
export function insidePlate(areas: readonly CutArea[], plate: Region): readonly CutArea[] {
  const crossing: CutArea[] = [];
  const within: CutArea[] = [];
  for (const area of areas) {
    if (outlinesMeet(area.region, plate, TOUCH_MM)) crossing.push(area);
    else if (regionsMeet(area.region, plate)) within.push(area);
  }
  const levels = measuredLevels(crossing).flatMap(({ depthMm, region }) => {
    const inside = intersectionOf(region, plate);
    return inside.length === 0 ? [] : { depthMm, region: inside };
  });
  const [only] = levels;
  if (!only) return within;
  const region = levels.length === 1 ? only.region : unionOf(levels.map((level) => level.region));
  return [...within, { region, levels }];
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
