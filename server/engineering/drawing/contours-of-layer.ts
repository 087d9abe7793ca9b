import { ringAreaOf } from '../geometry/area.js';
import type { Effort } from '../geometry/effort.js';
import type { Point, Ring } from '../geometry/point.js';
import { selfCrossingOf } from '../geometry/self-crossing.js';
import { circleOfRing } from './circle-of-ring.js';
import type { DrawingReason } from './drawing-refusal.js';
import { withoutDuplicates } from './duplicates.js';
import { type Chain, JOIN_MM, joinEnds } from './join-ends.js';
import type { FeatureLayer } from './layer-name.js';
import type { Notices } from './notices.js';
import { openEndReasons } from './open-ends.js';
import type { CentreLine, Contour, Mark } from './plate-drawing.js';
import type { Reasons } from './reasons.js';
import type { Circle, Stroke } from './stroke.js';
import type { LayerStrokes } from './strokes-by-layer.js';

/** A contour that holds less is a line drawn twice, mm2. */
const LEAST_AREA_MM2 = 1e-6;

/** What the strokes of one layer make. */
export interface LayerShapes {
  readonly contours: readonly Contour[];
  readonly centreLines: readonly CentreLine[];
  readonly marks: readonly Mark[];
}

/** Features that stay pockets or parts whatever their width, so that their line must close. */
const MUST_CLOSE = new Set(['CAVITY']);
/** Features that are round holes, for which a circle is looked for in any contour. */
const ROUND = new Set(['BOLT', 'DOWEL', 'FEED', 'SINK']);

/** Joins the strokes of a layer into contours, or takes them as centre lines where the layer has a width. */
export function shapesOfLayer(
  { layer, strokes }: LayerStrokes,
  notices: Notices,
  reasons: Reasons,
  effort: Effort,
): LayerShapes {
  const drawn = withoutDuplicates(strokes);
  const marks = marksOf(layer, drawn, reasons);
  const lines = drawn.filter(({ entity }) => entity !== 'POINT');
  refuseBoreWithoutWidth(layer, lines, reasons);
  const joined =
    layer.widthMm === null || MUST_CLOSE.has(layer.feature) ? closedOnly(layer, lines, reasons) : lines;
  const kept = withoutDuplicates(joined);
  const dropped = strokes.length - drawn.length + joined.length - kept.length;
  if (dropped > 0) notices.add({ code: 'duplicates-dropped', layer: layer.name }, dropped);
  if (layer.widthMm !== null) {
    return {
      contours: [],
      centreLines: kept.map(({ points, closed }) => ({ layer, points, closed })),
      marks,
    };
  }
  const contours = kept.flatMap((chain) => contourOf(layer, chain, reasons, effort) ?? []);
  return { contours, centreLines: [], marks };
}

/** A cooling bore is a line whether or not it closes, and needs its width. */
function refuseBoreWithoutWidth(layer: FeatureLayer, lines: readonly Stroke[], reasons: Reasons): void {
  if (layer.feature !== 'WATER' || layer.widthMm !== null) return;
  for (const { entity, points, closed } of lines) {
    const at = points[0] as Point;
    if (closed) reasons.add({ code: 'drawing-open-path-without-width', layer: layer.name, entity, at });
  }
}

/** Only a FEED may be a point. */
function marksOf(layer: FeatureLayer, strokes: readonly Stroke[], reasons: Reasons): Mark[] {
  const marks = strokes
    .filter(({ entity }) => entity === 'POINT')
    .map(({ points }) => ({ layer, at: points[0] as Point }));
  if (layer.feature === 'FEED') return marks;
  const code = ROUND.has(layer.feature) ? 'drawing-not-a-circle' : 'drawing-entity-unsupported';
  for (const { at } of marks) reasons.add({ code, layer: layer.name, entity: 'POINT', at });
  return [];
}

type Closed = Chain & { readonly circle: Circle | null };

function closedOnly(layer: FeatureLayer, strokes: readonly Stroke[], reasons: Reasons): Closed[] {
  const open = strokes.filter(({ closed }) => !closed);
  if (open.length === 0) return [...strokes];
  const chains = joinEnds(open);
  for (const reason of openEndReasons(layer, chains)) reasons.add(reason);
  return [
    ...strokes.filter(({ closed }) => closed),
    ...chains.filter(({ closed }) => closed).map((chain) => ({ ...chain, circle: null })),
  ];
}

function contourOf(
  layer: FeatureLayer,
  { entity, points, circle }: Closed,
  reasons: Reasons,
  effort: Effort,
): Contour | null {
  const refuse = (reason: Omit<DrawingReason, 'layer' | 'entity'>) => {
    reasons.add({ layer: layer.name, entity, ...reason });
    return null;
  };
  const crossing = circle ? null : selfCrossingOf(points, 2 * JOIN_MM, effort);
  if (crossing) return refuse({ code: 'drawing-contour-self-crossing', at: crossing });
  const area = ringAreaOf(points);
  if (Math.abs(area) < LEAST_AREA_MM2)
    return refuse({ code: 'drawing-contour-empty', at: points[0] as Point });
  const ring: Ring = area > 0 ? points : [...points].reverse();
  return { layer, ring, circle: circle ?? (ROUND.has(layer.feature) ? circleOfRing(ring) : null) };
}
