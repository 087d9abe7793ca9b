import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import { ringContains } from '../geometry/contains.js';
import { convexHullOf } from '../geometry/convex-hull.js';
import { boundaryDistanceToPoint, distanceToPoint } from '../geometry/distance.js';
import type { Point, Region } from '../geometry/point.js';
import type { BolsterFacts } from '../press-facts.js';
import { threadDiameterMm } from './fasteners/iso-261-threads.js';
import { degToRad, turned } from './placing.js';
import type { Placement, Registration } from './registration-result.js';

/** A bolt hole that could be added over a tapped hole that is still free, in the drawing. */
export interface FreeHole {
  readonly hole: number;
  readonly at: Point;
}

/**
 * How far the middle of what the melt pushes on lies outside the screws' convex hull, mm; 0 inside. A screw holds
 * out to the rim of its head, so a head's radius is taken off.
 */
export function outsideScrewsMm(screws: readonly Point[], pushAt: Point, headDiameterMm: number): number {
  const hull = convexHullOf(screws);
  if (hull.length >= 3 && ringContains(hull, pushAt)) return 0;
  const apartMm = distanceToPoint([hull], pushAt)?.distanceMm ?? 0;
  return Math.max(0, apartMm - headDiameterMm / 2);
}

/** Free tapped holes of the screw's thread that lie under the plate, clear of every cut and of its edge. */
export function freeHolesUnder(
  drawing: MeasuredDrawing,
  bolster: BolsterFacts,
  registration: Registration,
  placement: Placement,
  screwSize: string,
  rimMm: number,
): readonly FreeHole[] {
  const taken = new Set(registration.matches.map((match) => match.hole));
  const thread = threadDiameterMm(screwSize);
  const cuts = cutRegions(drawing);
  return bolster.holes.flatMap((hole, index) => {
    if (taken.has(index) || threadDiameterMm(hole.thread) !== thread) return [];
    const at = inDrawingPlace(hole.at, drawing.feed.at, placement);
    if (!ringContains(drawing.plate.outline, at)) return [];
    const edgeMm = boundaryDistanceToPoint([drawing.plate.outline], at)?.distanceMm ?? 0;
    const cutMm = Math.min(
      ...cuts.map((cut) => distanceToPoint(cut, at)?.distanceMm ?? Number.POSITIVE_INFINITY),
    );
    return Math.min(edgeMm, cutMm) >= rimMm ? [{ hole: index, at }] : [];
  });
}

/** Where a place of the bolster lies in the drawing. */
export function inDrawingPlace(onBolster: Point, feed: Point, { rotationDeg, shift }: Placement): Point {
  const back = turned({ x: onBolster.x - shift.x, y: onBolster.y - shift.y }, -degToRad(rotationDeg));
  return { x: feed.x + back.x, y: feed.y + back.y };
}

function cutRegions({ features, water, plate, bolts, dowels }: MeasuredDrawing): readonly Region[] {
  const cut = Object.values(features).flatMap((feature) => (feature === null ? [] : [feature.region]));
  const holes = [...bolts, ...dowels].map(({ at }) => [[at]]);
  return [...cut, ...water.map(({ region }) => region), plate.openings, ...holes].filter(
    (region) => region.length > 0,
  );
}
