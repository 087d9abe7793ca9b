import { ringContains } from '../geometry/contains.js';
import { regionsMeet } from '../geometry/distance.js';
import { Effort } from '../geometry/effort.js';
import type { Point, Ring } from '../geometry/point.js';
import type { PlateDrawing } from './plate-drawing.js';
import type { Reasons } from './reasons.js';

/** Holes and cavities times corners of the outline: a hundred times what an intricate plate has. */
const COMPARISONS = 50_000_000;

/** What has to be cut into the plate: a drilled hole, or the feed. */
export interface HolePlace {
  readonly layer: 'BOLT' | 'DOWEL' | 'FEED';
  readonly at: Point;
}

/** Adds holes centred outside the plate and cavities wholly outside it to `reasons`. */
export function refuseOutsidePlate(
  drawing: PlateDrawing,
  outline: Ring,
  holes: readonly HolePlace[],
  reasons: Reasons,
): void {
  const effort = new Effort(COMPARISONS);
  const contains = (at: Point) => {
    effort.spend(outline.length);
    return ringContains(outline, at);
  };
  for (const { layer, at } of holes) {
    if (!contains(at)) reasons.add({ code: 'drawing-outside-plate', layer, at });
  }
  for (const { layer, ring } of drawing.contours) {
    const at = ring[0] as Point;
    if (layer.feature !== 'CAVITY' || contains(at) || regionsMeet([outline], [ring])) continue;
    reasons.add({ code: 'drawing-outside-plate', layer: layer.name, at });
  }
}
