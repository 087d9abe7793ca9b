import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import { AS_DRAWN, degToRad, inDrawing, landing } from '../fit/placing.js';
import type { Placement, Registration } from '../fit/registration-result.js';
import { screwSeats } from '../fit/screw-seats.js';
import { areaOf, type Moments, momentsOf } from '../geometry/area.js';
import { differenceOf, intersectionOf } from '../geometry/boolean.js';
import { boundsHold, boundsOfPoints } from '../geometry/bounds.js';
import { convexHullOf } from '../geometry/convex-hull.js';
import type { Point, Region, Ring } from '../geometry/point.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { turnedMoments } from './joined-moments.js';
import { dryCuts, holeRegion, landMoments } from './land-cuts.js';

/** The flat metal of a plate's parting face as it lies on the bolster: mm, the sprue and clamp axis at the origin. */
export interface Land {
  readonly moments: Moments;
  /** Corners of the convex hull of the outline, where it lies on the face. */
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
  const outline = drawing.plate.outline.map(placed);
  const isOnFace = liesOnFace(outline, bolster);
  const dry = dryCuts(drawing, screwSeats(drawing, plate, bolster, registration));
  return {
    moments: isOnFace ? wholeLand(drawing, dry, placement) : backedLand(drawing, dry, bolster, placed),
    hull: convexHullOf(isOnFace ? outline : intersectionOf([outline], [faceOf(bolster)]).flat()),
    rim: convexHullOf(drawing.projected.region.flat()).map(placed),
    pushAt: placed(drawing.projected.centroid),
    outline,
    placement,
    placed: registration.placement === null ? 'by-feed' : registration.fits ? 'fits' : 'best-motion',
  };
}

/** Area of the plate's back that lies on the bolster's face, mm2. */
export function backingAreaMm2(drawing: MeasuredDrawing, bolster: BolsterFacts, land: Land): number {
  const holes = [...drawing.bolts, ...drawing.dowels];
  if (bolster.faceOpenings.length === 0 && liesOnFace(land.outline, bolster)) {
    const holesMm2 = holes.reduce((sum, { diameterMm }) => sum + (Math.PI * diameterMm ** 2) / 4, 0);
    return drawing.plate.areaMm2 - holesMm2;
  }
  const placed = (point: Point) => landing(point, drawing.feed.at, land.placement);
  const through = [drawing.plate.openings, ...holes.map(holeRegion)].map((region) =>
    region.map((ring) => ring.map(placed)),
  );
  const onFace = intersectionOf([land.outline], [faceOf(bolster)]);
  return areaOf(differenceOf(onFace, bolster.faceOpenings, ...through));
}

function wholeLand(drawing: MeasuredDrawing, dry: readonly Region[], placement: Placement): Moments {
  const drawn = landMoments(drawing, dry);
  const centroid = landing(drawn.centroid, drawing.feed.at, placement);
  return turnedMoments(drawn, degToRad(placement.rotationDeg), centroid);
}

function backedLand(
  drawing: MeasuredDrawing,
  dry: readonly Region[],
  bolster: BolsterFacts,
  placed: (point: Point) => Point,
): Moments {
  const left = differenceOf([drawing.plate.outline], drawing.projected.region, ...dry);
  return momentsOf(
    intersectionOf(
      left.map((ring) => ring.map(placed)),
      [faceOf(bolster)],
    ),
  );
}

function liesOnFace(outline: Ring, bolster: BolsterFacts): boolean {
  return boundsHold(boundsOfPoints(faceOf(bolster)), boundsOfPoints(outline));
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
