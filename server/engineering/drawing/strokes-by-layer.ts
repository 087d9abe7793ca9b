import { TooIntricate } from '../geometry/too-intricate.js';
import { type DxfDocument, type DxfEntity, nameKey } from './dxf-document.js';
import { EntityFields } from './entity-fields.js';
import { entityShape } from './entity-shape.js';
import { expandInserts } from './expand-inserts.js';
import type { FeatureLayer } from './layer-name.js';
import { isFrozen, layerStandings } from './layer-standing.js';
import type { Notices } from './notices.js';
import { type Placement, scaled } from './placement.js';
import type { Reasons } from './reasons.js';
import { MOST_POINTS, type Stroke } from './stroke.js';

/** What is written on a drawing rather than cut. */
const NOTES = new Set(['TEXT', 'MTEXT', 'DIMENSION', 'LEADER', 'MULTILEADER', 'HATCH', 'ATTDEF', 'ATTRIB']);
/** Absurd for a plate: no coordinate may be farther from the origin, mm. */
const FARTHEST_MM = 10_000;

export interface LayerStrokes {
  readonly layer: FeatureLayer;
  readonly strokes: readonly Stroke[];
}

/**
 * Draws every entity of a feature layer that is on, in mm, and notes what is left out: paper space, other layers,
 * layers frozen or off, notes. What is wrong with an entity is gathered in `reasons`.
 */
export function strokesByLayer(
  document: DxfDocument,
  mmPerUnit: number,
  notices: Notices,
  reasons: Reasons,
): readonly LayerStrokes[] {
  const standingOf = layerStandings(document);
  const drawn = new Map<string, { layer: FeatureLayer; strokes: Stroke[] }>();
  const refused = new Set<string>();
  let points = 0;

  const keep = (layer: FeatureLayer, stroke: Stroke): void => {
    points += stroke.points.length;
    if (points > MOST_POINTS) throw new TooIntricate(MOST_POINTS);
    const key = nameKey(layer.name);
    const same = drawn.get(key);
    if (same) same.strokes.push(stroke);
    else drawn.set(key, { layer, strokes: [stroke] });
  };

  const visit = (entity: DxfEntity, layer: string, placement: Placement): void => {
    const standing = standingOf(layer);
    if (entity.paperSpace) notices.add({ code: 'paper-space-left-out' });
    else if (entity.type === 'INSERT') notices.add({ code: 'layer-frozen', layer });
    else if (standing.kind === 'left-out') notices.add({ code: standing.code, layer });
    else if (NOTES.has(entity.type)) notices.add({ code: 'notes-left-out', layer, entity: entity.type });
    else if (standing.kind === 'counts') {
      const stroke = reasons.gather(() => shapeOf(new EntityFields(entity, layer), placement));
      if (stroke) keep(standing.layer, stroke);
    } else if (!refused.has(layer)) {
      refused.add(layer);
      reasons.add({ code: standing.code, layer, entity: entity.type });
    }
  };

  expandInserts(document, scaled(mmPerUnit), (layer) => isFrozen(document, layer), visit);
  return [...drawn.values()];
}

function shapeOf(fields: EntityFields, placement: Placement): Stroke | null {
  const stroke = entityShape(fields, placement);
  if (!stroke) fields.refuse({ code: 'drawing-entity-unsupported' });
  const far = stroke.points.find(({ x, y }) => !(Math.abs(x) <= FARTHEST_MM && Math.abs(y) <= FARTHEST_MM));
  if (far && !Number.isFinite(far.x + far.y)) fields.refuse({ code: 'drawing-coordinate-not-finite' });
  if (far) fields.refuse({ code: 'drawing-coordinate-too-far', at: far, limit: FARTHEST_MM });
  return hasExtent(stroke) ? stroke : null;
}

/** A line of no length draws nothing. */
function hasExtent({ entity, points, closed }: Stroke): boolean {
  const first = points[0];
  if (!first) return false;
  return entity === 'POINT' || closed || points.some(({ x, y }) => x !== first.x || y !== first.y);
}
