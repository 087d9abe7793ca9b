import { sweepPath } from '../geometry/sweep.js';
import { type Cut, cutOf } from './cut.js';
import type { Feature } from './layer-name.js';
import type { PlateDrawing } from './plate-drawing.js';

/** Contours and passes of the cutter of one feature, each to the depth its layer names. */
export function cutsOfFeature(drawing: PlateDrawing, feature: Feature): readonly Cut[] {
  const pockets = drawing.contours
    .filter(({ layer }) => layer.feature === feature)
    .map(({ layer, ring }) => cutOf(layer.depthMm ?? 0, [ring], true));
  const channels = drawing.centreLines
    .filter(({ layer }) => layer.feature === feature)
    .map(({ layer, points, closed }) =>
      cutOf(layer.depthMm ?? 0, sweepPath(points, layer.widthMm ?? 0, closed), false),
    );
  return [...pockets, ...channels];
}
