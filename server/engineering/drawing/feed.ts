import { circleRing } from '../geometry/arc.js';
import { regionsMeet } from '../geometry/distance.js';
import type { Point } from '../geometry/point.js';
import type { FeatureLayer } from './layer-name.js';
import type { MeasuredDrawing, MeasuredFeature } from './measured-drawing.js';
import type { Contour, PlateDrawing } from './plate-drawing.js';
import type { Reasons } from './reasons.js';
import { distinctCircles } from './round-holes.js';
import type { Circle } from './stroke.js';

type Feed = MeasuredDrawing['feed'];

/**
 * Where the sprue meets the plate: one circle, or one point as wide as the sprue. Without a depth of its own it is as
 * deep as the deepest runner that meets it. What is wrong is added to `reasons`.
 */
export function feedOf(
  drawing: PlateDrawing,
  runner: MeasuredFeature | null,
  sprueDiameterMm: number,
  reasons: Reasons,
): Feed | null {
  const [feed, second] = feedsDrawn(drawing, reasons);
  if (second) reasons.add({ code: 'drawing-two-feeds', layer: second.layer.name, at: second.at });
  if (!feed || second) return null;
  const { at, layer, drawnDiameterMm } = feed;
  const diameterMm = drawnDiameterMm ?? sprueDiameterMm;
  const depthMm = layer.depthMm ?? deepestAt(runner, at, diameterMm);
  if (depthMm === null) {
    reasons.add({ code: 'drawing-layer-without-depth', layer: layer.name, at });
    return null;
  }
  return { at, drawnDiameterMm, diameterMm, depthMm, depthFromRunner: layer.depthMm === null };
}

interface DrawnFeed {
  readonly layer: FeatureLayer;
  readonly at: Point;
  readonly drawnDiameterMm: number | null;
}

function feedsDrawn(drawing: PlateDrawing, reasons: Reasons): DrawnFeed[] {
  const contours = drawing.contours.filter(({ layer }) => layer.feature === 'FEED');
  const circles = distinctCircles(contours.flatMap(({ circle }) => circle ?? []));
  const layerOf = (circle: Circle) =>
    (contours.find((contour) => contour.circle === circle) as Contour).layer;
  const feeds = [
    ...circles.slice(0, 2).map((circle) => ({
      layer: layerOf(circle),
      at: circle.centre,
      drawnDiameterMm: circle.diameterMm,
    })),
    ...drawing.marks.map(({ layer, at }) => ({ layer, at, drawnDiameterMm: null })),
  ];
  const odd = contours.find(({ circle }) => !circle);
  if (odd) reasons.add({ code: 'drawing-not-a-circle', layer: odd.layer.name, at: odd.ring[0] as Point });
  else if (feeds.length === 0) reasons.add({ code: 'drawing-no-feed' });
  return feeds;
}

function deepestAt(runner: MeasuredFeature | null, at: Point, diameterMm: number): number | null {
  const pocket = [circleRing(at, diameterMm)];
  const met = (runner?.levels ?? []).filter(({ region }) => regionsMeet(region, pocket));
  return met.at(-1)?.depthMm ?? null;
}
