import { interiorPointOf } from '../geometry/polygons.js';
import type { Feature } from './layer-name.js';
import { nearbyPairs } from './nearby-pairs.js';
import type { PlateDrawing } from './plate-drawing.js';
import type { Reasons } from './reasons.js';
import type { Circle } from './stroke.js';

/** Two circles this near are one hole drawn in two ways, mm. */
const SAME_HOLE_MM = 0.001;

/** The circles of a feature that is drilled or bored; any other contour is added to `reasons`. */
export function roundHoles(drawing: PlateDrawing, feature: Feature, reasons: Reasons): readonly Circle[] {
  const contours = drawing.contours.filter(({ layer }) => layer.feature === feature);
  for (const { layer, ring, circle } of contours) {
    if (!circle)
      reasons.add({ code: 'drawing-not-a-circle', layer: layer.name, at: interiorPointOf([ring]) });
  }
  return distinctCircles(contours.flatMap(({ circle }) => circle ?? []));
}

/** Circles that lie on another of their size are left away. */
export function distinctCircles(circles: readonly Circle[]): readonly Circle[] {
  const again = new Set<number>();
  for (const { i, j } of nearbyPairs(
    circles.map(({ centre }) => centre),
    SAME_HOLE_MM,
  )) {
    const [a, b] = [circles[i] as Circle, circles[j] as Circle];
    if (Math.abs(a.diameterMm - b.diameterMm) <= SAME_HOLE_MM) again.add(j);
  }
  return circles.filter((_, i) => !again.has(i));
}
