import { areaOf, momentsOf } from '../geometry/area.js';
import { type Bounds, boundsHave, boundsOf } from '../geometry/bounds.js';
import { regionContains } from '../geometry/contains.js';
import { Effort } from '../geometry/effort.js';
import type { Region } from '../geometry/point.js';
import { interiorPointOf, polygonsOf } from '../geometry/polygons.js';
import { byDepth, type CutArea, type Level } from './joined-by-depth.js';
import type { Cavity } from './measured-drawing.js';
import { measuredLevels, volumeOf } from './measured-feature.js';

/** What sorting levels into parts may take: some thousand of each. */
const COMPARISONS = 20_000_000;

/** The moulded parts: each connected area of CAVITY, with its levels. */
export function cavitiesOf(areas: readonly CutArea[]): readonly Cavity[] {
  return areas.flatMap(({ region, levels }) => {
    const parts = polygonsOf(region);
    if (parts.length === 1) return cavityOf({ region, levels });
    const own = levelsByPart(parts, levels);
    return parts.map((part, i) => cavityOf({ region: part, levels: byDepth(own[i] ?? []) }));
  });
}

/** The pieces of every level, by the part they lie in; a level's own pieces never reach over two. */
function levelsByPart(parts: readonly Region[], levels: readonly Level[]): Level[][] {
  const own: Level[][] = parts.map(() => []);
  const boxes = parts.map(boundsOf);
  const effort = new Effort(COMPARISONS);
  for (const { depthMm, region } of levels) {
    for (const piece of polygonsOf(region)) {
      const place = interiorPointOf(piece);
      effort.spend(parts.length);
      const part = parts.findIndex(
        (rings, i) => boundsHave(boxes[i] as Bounds, place) && regionContains(rings, place),
      );
      own[part]?.push({ depthMm, region: piece });
    }
  }
  return own;
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
