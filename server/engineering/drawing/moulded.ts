import { momentsOf } from '../geometry/area.js';
import { boundsOf } from '../geometry/bounds.js';
import { eachMeetingPair } from '../geometry/box-pairs.js';
import { regionsMeet } from '../geometry/distance.js';
import { clusters } from './clusters.js';
import { type CutArea, joinedByDepth } from './joined-by-depth.js';
import type { MeasuredDrawing } from './measured-drawing.js';
import { measuredLevels, volumeOf } from './measured-feature.js';

/** All that fills with melt, each place once: `projected` as one area, `moulded` by the deepest cut. */
export function mouldedOf(areas: readonly CutArea[]): Pick<MeasuredDrawing, 'projected' | 'moulded'> {
  const links: [number, number][] = [];
  eachMeetingPair(
    areas.map(({ region }) => boundsOf(region)),
    (i, j) => {
      if (regionsMeet((areas[i] as CutArea).region, (areas[j] as CutArea).region)) links.push([i, j]);
    },
  );
  const joined = clusters(areas.length, links).map((members) => {
    const met = members.map((i) => areas[i] as CutArea);
    return met.length === 1 ? (met[0] as CutArea) : joinedByDepth(met);
  });
  const region = joined.flatMap((area) => area.region);
  const levels = measuredLevels(joined);
  const { areaMm2, centroid } = momentsOf(region);
  return { projected: { region, areaMm2, centroid }, moulded: { levels, volumeMm3: volumeOf(levels) } };
}
