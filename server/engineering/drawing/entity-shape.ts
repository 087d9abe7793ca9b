import { arcPoints, type EllipticArc } from '../geometry/arc.js';
import type { Point } from '../geometry/point.js';
import type { EntityFields } from './entity-fields.js';
import { direction, MIRRORED, type Placement, place, within } from './placement.js';
import { lwpolylineShape, polylineShape } from './polyline-shape.js';
import { splineShape } from './spline-shape.js';
import { circleOfArc, placeArc, type Stroke } from './stroke.js';

/** Entities whose shape a plate drawing may use; POINT is a stroke of one point. */
const SHAPES: { readonly [type: string]: (fields: EntityFields, placement: Placement) => Stroke } = {
  LINE: lineShape,
  ARC: arcShape,
  CIRCLE: circleShape,
  ELLIPSE: ellipseShape,
  LWPOLYLINE: lwpolylineShape,
  POLYLINE: polylineShape,
  SPLINE: splineShape,
  POINT: pointShape,
};

const FULL_TURN = 2 * Math.PI;
/** How near to a full turn an arc's angles must come to be one, radians. */
const TURN_ROUNDING = 1e-7;

/** Draws one entity where it is placed, or null for an entity that has no shape here. */
export function entityShape(fields: EntityFields, placement: Placement): Stroke | null {
  const { entity } = fields.name;
  return Object.hasOwn(SHAPES, entity) ? (SHAPES[entity]?.(fields, placement) ?? null) : null;
}

/** LINE and POINT stand in world coordinates whatever their extrusion. */
function lineShape(fields: EntityFields, placement: Placement): Stroke {
  const points = [
    place(placement, fields.number(10), fields.number(20)),
    place(placement, fields.number(11), fields.number(21)),
  ];
  return { entity: 'LINE', points, closed: false, circle: null };
}

function pointShape(fields: EntityFields, placement: Placement): Stroke {
  const points = [place(placement, fields.number(10), fields.number(20))];
  return { entity: 'POINT', points, closed: false, circle: null };
}

function circleShape(fields: EntityFields, placement: Placement): Stroke {
  const radius = radiusOf(fields);
  const facing = fields.facing() < 0 ? within(placement, MIRRORED) : placement;
  const arc = { centre: centreOf(fields), u: { x: radius, y: 0 }, v: { x: 0, y: radius } };
  return arcStroke('CIRCLE', placeArc(facing, { ...arc, start: 0, sweep: FULL_TURN }));
}

/** ARC runs counter-clockwise from its start to its end angle; equal angles make a full turn. */
function arcShape(fields: EntityFields, placement: Placement): Stroke {
  const radius = radiusOf(fields);
  const facing = fields.facing() < 0 ? within(placement, MIRRORED) : placement;
  const start = fields.number(50, 0);
  const turn = (((fields.number(51, 360) - start) % 360) + 360) % 360;
  const { x, y } = direction(start);
  const u = { x: radius * x, y: radius * y };
  const sweep = turn === 0 ? FULL_TURN : (turn * Math.PI) / 180;
  return arcStroke(
    'ARC',
    placeArc(facing, { centre: centreOf(fields), u, v: { x: -u.y, y: u.x }, start: 0, sweep }),
  );
}

/** ELLIPSE stands in world coordinates; its extrusion tells which way its parameter runs. */
function ellipseShape(fields: EntityFields, placement: Placement): Stroke {
  const ratio = fields.number(40) * fields.facing();
  const u = { x: fields.number(11), y: fields.number(21) };
  const start = fields.number(41, 0);
  const turns = (fields.number(42, FULL_TURN) - start) / FULL_TURN;
  const part = turns - Math.floor(turns);
  const full = Math.min(part, 1 - part) * FULL_TURN <= TURN_ROUNDING;
  if (ratio === 0 || (u.x === 0 && u.y === 0)) fields.refuse({ code: 'drawing-entity-damaged' });
  const v = { x: -u.y * ratio, y: u.x * ratio };
  const sweep = full ? FULL_TURN : part * FULL_TURN;
  return arcStroke('ELLIPSE', placeArc(placement, { centre: centreOf(fields), u, v, start, sweep }));
}

function arcStroke(entity: string, arc: EllipticArc): Stroke {
  const points = arcPoints(arc);
  const closed = FULL_TURN - arc.sweep <= TURN_ROUNDING;
  if (closed) points.pop();
  return { entity, points, closed, circle: closed ? circleOfArc(arc) : null };
}

function centreOf(fields: EntityFields): Point {
  return { x: fields.number(10), y: fields.number(20) };
}

function radiusOf(fields: EntityFields): number {
  const radius = fields.number(40);
  if (radius <= 0) fields.refuse({ code: 'drawing-entity-damaged', at: centreOf(fields), value: radius });
  return radius;
}
