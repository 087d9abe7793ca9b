import type { Point } from '../geometry/point.js';
import type { Feature } from './layer-name.js';
import type { DrawnWay } from './measured-drawing.js';
import type { PlateDrawing } from './plate-drawing.js';

/** Runners, gates and vents as they are drawn, one by one: what tells where melt and air go. */
export function waysOf({ centreLines, contours }: PlateDrawing): readonly DrawnWay[] {
  const channels = centreLines.flatMap(({ layer, points, closed }): readonly DrawnWay[] => {
    const { feature, depthMm, widthMm } = layer;
    if (!isWay(feature) || !depthMm || widthMm === null) return [];
    const path = closed ? [...points, points[0] as Point] : points;
    return [{ kind: 'channel', feature, depthMm, widthMm, path }];
  });
  const pockets = contours.flatMap(({ layer: { feature, depthMm }, ring }): readonly DrawnWay[] =>
    isWay(feature) && depthMm ? [{ kind: 'pocket', feature, depthMm, ring }] : [],
  );
  return [...channels, ...pockets];
}

function isWay(feature: Feature): feature is DrawnWay['feature'] {
  return feature === 'RUNNER' || feature === 'GATE' || feature === 'VENT';
}
