import { areaOf, ringAreaOf } from '../geometry/area.js';
import { boundsOfPoints } from '../geometry/bounds.js';
import { eachMeetingPair } from '../geometry/box-pairs.js';
import type { Point, Region } from '../geometry/point.js';
import { cutAreas } from './contour-map.js';
import { type Cut, cutOf, relationOf } from './cut.js';
import type { MeasuredDrawing } from './measured-drawing.js';
import type { Contour, PlateDrawing } from './plate-drawing.js';
import type { Reasons } from './reasons.js';

/** The plate itself; nothing in `reasons` is left unsaid when it is not exactly one. */
export function plateOutline(drawing: PlateDrawing, reasons: Reasons): MeasuredDrawing['plate'] | null {
  const contours = drawing.contours
    .filter(({ layer }) => layer.feature === 'PLATE')
    .sort((a, b) => ringAreaOf(b.ring) - ringAreaOf(a.ring));
  const [outer, ...inner] = contours;
  if (!outer) {
    reasons.add({ code: 'drawing-no-plate' });
    return null;
  }
  const openings = openingsIn(outer, inner, reasons);
  const { minX, minY, maxX, maxY } = boundsOfPoints(outer.ring);
  return {
    outline: outer.ring,
    openings,
    areaMm2: ringAreaOf(outer.ring) - areaOf(openings),
    widthMm: maxX - minX,
    heightMm: maxY - minY,
    min: { x: minX, y: minY },
    max: { x: maxX, y: maxY },
  };
}

/** Inner contours are cut through; one that lies outside, or in an opening, would be a second plate. */
function openingsIn(outer: Contour, inner: readonly Contour[], reasons: Reasons): Region {
  const outline = cutOf(0, [outer.ring], true);
  const holes = inner.map(({ ring }) => cutOf(1, [ring], true));
  const plates = new Set<number>();
  holes.forEach((hole, i) => {
    if (relationOf(outline, hole).kind !== 'nested') plates.add(i);
  });
  eachMeetingPair(
    holes.map(({ bounds }) => bounds),
    (i, j) => {
      const relation = relationOf(holes[i] as Cut, holes[j] as Cut);
      if (relation.kind === 'nested') plates.add(relation.inner === 0 ? i : j);
    },
  );
  for (const i of plates) {
    const { layer, ring } = inner[i] as Contour;
    const [at, to] = [ring[0] as Point, outer.ring[0] as Point];
    reasons.add({ code: 'drawing-two-plates', layer: layer.name, at, to });
  }
  return cutAreas(holes.filter((_, i) => !plates.has(i))).flatMap(({ region }) => region);
}

/** The metal of a plate before anything is cut into it. */
export function plateRegion({ outline, openings }: MeasuredDrawing['plate']): Region {
  return [outline, ...openings.map((ring) => [...ring].reverse())];
}
