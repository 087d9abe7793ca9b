import { arcPoints } from '../geometry/arc.js';
import type { Point } from '../geometry/point.js';
import { bulgeArc } from './bulge.js';
import type { EntityFields } from './entity-fields.js';
import { MIRRORED, type Placement, place, within } from './placement.js';
import { placeArc, type Stroke } from './stroke.js';

interface Vertex extends Point {
  readonly bulge: number;
}

const VERTEX_CODES = new Set([10, 20, 42]);
/** POLYLINE and LWPOLYLINE group 70. */
const CLOSED = 1;
const THREE_DIMENSIONAL = 8;
const MESH_OR_POLYFACE = 16 | 64;
/** VERTEX group 70: a point of the frame that a spline-fit polyline is drawn from. */
const SPLINE_FRAME = 16;

/** LWPOLYLINE: vertices with bulges in the entity itself; display width is no cutter width and is left alone. */
export function lwpolylineShape(fields: EntityFields, placement: Placement): Stroke {
  const vertices: { x: number; y: number; bulge: number }[] = [];
  fields.each(VERTEX_CODES, (code, value) => {
    if (code === 10) vertices.push({ x: value, y: 0, bulge: 0 });
    const last = vertices.at(-1);
    if (!last) return;
    if (code === 20) last.y = value;
    if (code === 42) last.bulge = value;
  });
  const facing = fields.facing() < 0 ? within(placement, MIRRORED) : placement;
  return strokeThrough(fields, vertices, (fields.number(70, 0) & CLOSED) !== 0, facing);
}

/** POLYLINE with its VERTEX entities, flat or in space (then seen from above). */
export function polylineShape(fields: EntityFields, placement: Placement): Stroke {
  const flags = fields.number(70, 0);
  if ((flags & MESH_OR_POLYFACE) !== 0) fields.refuse({ code: 'drawing-entity-unsupported' });
  const inSpace = (flags & THREE_DIMENSIONAL) !== 0;
  const vertices = fields.vertices
    .filter((vertex) => (vertex.number(70, 0) & SPLINE_FRAME) === 0)
    .map((vertex) => ({
      x: vertex.number(10),
      y: vertex.number(20),
      bulge: inSpace ? 0 : vertex.number(42, 0),
    }));
  const facing = !inSpace && fields.facing() < 0 ? within(placement, MIRRORED) : placement;
  return strokeThrough(fields, vertices, (flags & CLOSED) !== 0, facing);
}

function strokeThrough(
  fields: EntityFields,
  vertices: readonly Vertex[],
  closed: boolean,
  placement: Placement,
): Stroke {
  const points: Point[] = [];
  const last = closed ? vertices.length : vertices.length - 1;
  for (let i = 0; i < last; i++) {
    const from = vertices[i] as Vertex;
    const to = vertices[(i + 1) % vertices.length] as Vertex;
    const arc = from.bulge === 0 ? null : bulgeArc(from, to, from.bulge);
    points.push(place(placement, from.x, from.y));
    if (arc) for (const point of arcPoints(placeArc(placement, arc)).slice(1, -1)) points.push(point);
  }
  const end = vertices.at(-1);
  if (!closed && end) points.push(place(placement, end.x, end.y));
  return { entity: fields.name.entity, points, closed, circle: null };
}
