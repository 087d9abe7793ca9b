import { areaOf, momentsOf } from '../geometry/area.js';
import { boundsOf } from '../geometry/bounds.js';
import { regionContains } from '../geometry/contains.js';
import type { Region } from '../geometry/point.js';
import { interiorPointOf, polygonsOf } from '../geometry/polygons.js';
import type { CutArea, Level } from './joined-by-depth.js';
import type { Cavity } from './measured-drawing.js';
import { measuredLevels, volumeOf } from './measured-feature.js';

/** The moulded parts: each connected area of CAVITY, with its levels. */
export function cavitiesOf(areas: readonly CutArea[]): readonly Cavity[] {
  return areas.flatMap(({ region, levels }) => {
    const parts = polygonsOf(region);
    if (parts.length === 1) return cavityOf({ region, levels });
    return parts.map((part) =>
      cavityOf({ region: part, levels: levels.flatMap((level) => levelIn(part, level)) }),
    );
  });
}

/** What of a level lies in one part; a level's own parts never reach over two. */
function levelIn(part: Region, { depthMm, region }: Level): Level[] {
  const rings = polygonsOf(region)
    .filter((polygon) => regionContains(part, interiorPointOf(polygon)))
    .flat();
  return rings.length === 0 ? [] : [{ depthMm, region: rings }];
}

function cavityOf(area: CutArea): Cavity {
  const levels = measuredLevels([area]);
  const { minX, minY, maxX, maxY } = boundsOf(area.region);
  return {
    region: area.region,
    levels,
    areaMm2: areaOf(area.region),
    volumeMm3: volumeOf(levels),
    maxDepthMm: levels.at(-1)?.depthMm ?? 0,
    centroid: momentsOf(area.region).centroid,
    widthMm: maxX - minX,
    heightMm: maxY - minY,
  };
}
