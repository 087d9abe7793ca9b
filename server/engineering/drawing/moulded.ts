import { momentsOf } from '../geometry/area.js';
import { type CutArea, joinedByDepth } from './joined-by-depth.js';
import type { MeasuredDrawing } from './measured-drawing.js';
import { measuredLevels, volumeOf } from './measured-feature.js';

/** All that fills with melt, each place once: `projected` as one area, `moulded` by the deepest cut. */
export function mouldedOf(areas: readonly CutArea[]): Pick<MeasuredDrawing, 'projected' | 'moulded'> {
  const joined = joinedByDepth(areas);
  const region = joined.flatMap((area) => area.region);
  const levels = measuredLevels(joined);
  const { areaMm2, centroid } = momentsOf(region);
  return { projected: { region, areaMm2, centroid }, moulded: { levels, volumeMm3: volumeOf(levels) } };
}
