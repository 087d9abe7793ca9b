import { interiorPointOf } from '../geometry/polygons.js';
import type { Feature } from './layer-name.js';
import type { PlateDrawing } from './plate-drawing.js';
import type { Reasons } from './reasons.js';
import type { Circle } from './stroke.js';

/** Two circles this near are one hole drawn in two ways, mm. */
const SAME_HOLE_MM = 0.001;

/** The circles of a feature that is drilled or bored; any other contour is added to `reasons`. */
export function roundHoles(drawing: PlateDrawing, feature: Feature, reasons: Reasons): readonly Circle[] {
  const holes: Circle[] = [];
  for (const { layer, ring, circle } of drawing.contours) {
    if (layer.feature !== feature) continue;
    if (!circle)
      reasons.add({ code: 'drawing-not-a-circle', layer: layer.name, at: interiorPointOf([ring]) });
    else if (!holes.some((other) => areSame(other, circle))) holes.push(circle);
  }
  return holes;
}

export function areSame(a: Circle, b: Circle): boolean {
  return (
    Math.abs(a.centre.x - b.centre.x) <= SAME_HOLE_MM &&
    Math.abs(a.centre.y - b.centre.y) <= SAME_HOLE_MM &&
    Math.abs(a.diameterMm - b.diameterMm) <= SAME_HOLE_MM
  );
}
