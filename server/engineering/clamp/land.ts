import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import { inDrawing, landing } from '../fit/placing.js';
import type { Placement, Registration } from '../fit/registration-result.js';
import { type Moments, momentsOf } from '../geometry/area.js';
import { differenceOf, intersectionOf } from '../geometry/boolean.js';
import { convexHullOf } from '../geometry/convex-hull.js';
import type { Point, Region, Ring } from '../geometry/point.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';

/** The flat metal of a plate's parting face as it lies on the bolster: mm, the sprue and clamp axis at the origin. */
export interface Land {
  readonly region: Region;
  readonly moments: Moments;
  /** Corners of the land's convex hull. */
  readonly hull: Ring;
  /** Corners of the convex hull of what fills with melt: pressure at its rim is least or most at one of them. */
  readonly rim: Ring;
  /** Where the melt's force acts: the centroid of the projected area. */
  readonly pushAt: Point;
  readonly outline: Ring;
  readonly placement: Placement;
  /** How it was placed: by its registration; at its best motion, which does not fit; or by the feed alone. */
  readonly placed: 'fits' | 'best-motion' | 'by-feed';
}

/** Feed on the sprue and not turned: how a plate is looked at that has no bolt holes to place it by. */
const AS_DRAWN: Placement = { rotationDeg: 0, shift: { x: 0, y: 0 } };

/** Segments of the circle that stands for a hole: its area is 0.04 % short. */
const HOLE_SEGMENTS = 128;

/**
 * The land: outline less every opening, cut, sink and hole, and what the bolster's face does not back. Cooling bores
 * run below the face and take nothing. The plate lies as its registration says, at its best motion if it does not fit.
 */
export function landOf(
  drawing: MeasuredDrawing,
  plate: PlateFacts,
  bolster: BolsterFacts,
  registration: Registration,
): Land {
  const placement = registration.placement ?? AS_DRAWN;
  const placed = (point: Point) => landing(point, drawing.feed.at, placement);
  const onFace = differenceOf([drawing.plate.outline], ...cutsOf(drawing, plate)).map((ring) =>
    ring.map(placed),
  );
  const region = intersectionOf(onFace, [faceOf(bolster)]);
  return {
    region,
    moments: momentsOf(region),
    hull: convexHullOf(region.flat()),
    rim: convexHullOf(drawing.projected.region.flat().map(placed)),
    pushAt: placed(drawing.projected.centroid),
    outline: drawing.plate.outline.map(placed),
    placement,
    placed: registration.placement === null ? 'by-feed' : registration.fits ? 'fits' : 'best-motion',
  };
}

/** Area of the plate's back that lies on the bolster's face, mm2. */
export function backingAreaMm2(drawing: MeasuredDrawing, bolster: BolsterFacts, land: Land): number {
  const placed = (point: Point) => landing(point, drawing.feed.at, land.placement);
  const through = [drawing.plate.openings, ...[...drawing.bolts, ...drawing.dowels].map(holeOf)];
  const back = differenceOf([drawing.plate.outline], ...through).map((ring) => ring.map(placed));
  return momentsOf(differenceOf(intersectionOf(back, [faceOf(bolster)]), bolster.faceOpenings)).areaMm2;
}

function cutsOf(drawing: MeasuredDrawing, plate: PlateFacts): Region[] {
  const { features, bolts, dowels } = drawing;
  const cuts = Object.values(features).flatMap((feature) => (feature ? [feature.region] : []));
  const holes = [...bolts, ...dowels].map(holeOf);
  const { headSinkDepthMm, headSinkDiameterMm } = plate.screw;
  const hasGivenSinks = !features.SINK && headSinkDepthMm !== null && headSinkDiameterMm !== null;
  const sinks = hasGivenSinks ? bolts.map(({ at }) => holeOf({ at, diameterMm: headSinkDiameterMm })) : [];
  return [drawing.plate.openings, ...cuts, ...holes, ...sinks];
}

function holeOf({ at, diameterMm }: { readonly at: Point; readonly diameterMm: number }): Region {
  const ring = Array.from({ length: HOLE_SEGMENTS }, (_, i) => {
    const angle = (2 * Math.PI * i) / HOLE_SEGMENTS;
    return { x: at.x + (diameterMm / 2) * Math.cos(angle), y: at.y + (diameterMm / 2) * Math.sin(angle) };
  });
  return [ring];
}

function faceOf({ face }: BolsterFacts): Ring {
  return rectangleAt(face.centre, face.widthMm, face.heightMm);
}

/** A place on the bolster, told in the drawing's coordinates. */
export function toDrawing({ x, y }: Point, { placement }: Pick<Land, 'placement'>, feed: Point): Point {
  const back = inDrawing({ x: x - placement.shift.x, y: y - placement.shift.y }, placement.rotationDeg);
  return { x: feed.x + back.x, y: feed.y + back.y };
}

/** An upright rectangle about its centre, counter-clockwise. */
export function rectangleAt({ x, y }: Point, widthMm: number, heightMm: number): Ring {
  const [w, h] = [widthMm / 2, heightMm / 2];
  return [
    { x: x - w, y: y - h },
    { x: x + w, y: y - h },
    { x: x + w, y: y + h },
    { x: x - w, y: y + h },
  ];
}
