import { ringAreaOf } from '../geometry/area.js';
import { boundsOfPoints } from '../geometry/bounds.js';
import { eachMeetingPair } from '../geometry/box-pairs.js';
import { ringContains } from '../geometry/contains.js';
import { boundaryDistance } from '../geometry/distance.js';
import { interiorPointOf } from '../geometry/polygons.js';
import type { Bolt, Sink } from './measured-drawing.js';
import type { Contour, PlateDrawing } from './plate-drawing.js';
import type { Reasons } from './reasons.js';

/**
 * The counterbore of each bolt hole that has one: the innermost SINK contour round its centre. A contour with no bolt
 * hole in it is added to `reasons`.
 */
export function sinksOf(drawing: PlateDrawing, bolts: readonly Bolt[], reasons: Reasons): readonly Sink[] {
  const contours = drawing.contours
    .filter(({ layer }) => layer.feature === 'SINK')
    .sort((a, b) => ringAreaOf(a.ring) - ringAreaOf(b.ring));
  const innermost = new Map<number, number>();
  const used = new Set<number>();
  const boxes = [
    ...contours.map(({ ring }) => boundsOfPoints(ring)),
    ...bolts.map(({ at }) => boundsOfPoints([at])),
  ];
  eachMeetingPair(boxes, (i, j) => {
    const [sink, bolt] = [Math.min(i, j), Math.max(i, j) - contours.length];
    if (sink >= contours.length || bolt < 0) return;
    if (!ringContains((contours[sink] as Contour).ring, (bolts[bolt] as Bolt).at)) return;
    used.add(sink);
    innermost.set(bolt, Math.min(sink, innermost.get(bolt) ?? sink));
  });
  contours.forEach(({ layer, ring, circle }, sink) => {
    if (layer.depthMm === 0 || used.has(sink)) return;
    const at = circle?.centre ?? interiorPointOf([ring]);
    reasons.add({ code: 'drawing-sink-without-bolt', layer: layer.name, at });
  });
  return bolts.flatMap((bolt, index) => {
    const around = contours[innermost.get(index) ?? contours.length];
    return around?.layer.depthMm ? sinkRound(bolt, index, around, around.layer.depthMm) : [];
  });
}

/** A sink that is no circle takes the widest head that goes in round its bolt. */
function sinkRound(bolt: Bolt, index: number, { ring, circle }: Contour, depthMm: number): Sink {
  const room = boundaryDistance([ring], [[bolt.at]])?.distanceMm ?? 0;
  return { bolt: index, depthMm, diameterMm: circle?.diameterMm ?? 2 * room, region: [ring] };
}
