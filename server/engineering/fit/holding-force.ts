import type { Bolt, MeasuredDrawing } from '../drawing/measured-drawing.js';
import { ringContains } from '../geometry/contains.js';
import { convexHullOf } from '../geometry/convex-hull.js';
import { boundaryDistanceToPoint, distanceToPoint } from '../geometry/distance.js';
import type { Point, Region } from '../geometry/point.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { threadDiameterMm } from './fasteners/iso-261-threads.js';
import { CAP_SCREWS } from './fasteners/iso-4762-screws.js';
import { degToRad, turned } from './placing.js';
import type { Placement, Registration } from './registration-result.js';
import { screwOfBolt } from './screw-of-bolt.js';
import { knownScrew } from './screw-seats.js';

/** A bolt hole that could be added over a tapped hole that is still free, in the drawing. */
export interface FreeHole {
  readonly hole: number;
  readonly at: Point;
}

/** A screw in its place, and how wide its head presses. */
export interface PlacedScrew {
  readonly at: Point;
  readonly headDiameterMm: number;
}

/** The screws of all bolt holes, each with the head of its own group. */
export function placedScrews(
  plate: Pick<PlateFacts, 'screw' | 'screwGroups'>,
  bolts: readonly Bolt[],
): readonly PlacedScrew[] {
  return bolts.map(({ at }, bolt) => {
    const size = knownScrew({ screw: screwOfBolt(plate, bolts, bolt) });
    return { at, headDiameterMm: CAP_SCREWS[size].headDiameterMm };
  });
}

/**
 * How far the middle of what the melt pushes on lies outside all that the screws hold, mm; 0 inside. A screw holds out
 * to the rim of its head, so what they hold is the convex hull of their heads.
 */
export function outsideScrewsMm(screws: readonly PlacedScrew[], pushAt: Point): number {
  const hull = convexHullOf(screws.map(({ at }) => at));
  if (hull.length >= 3 && ringContains(hull, pushAt)) return 0;
  const apartMm = screws.flatMap((one, index) =>
    screws.slice(index).map((other) => outsideTwoMm(one, other, pushAt)),
  );
  return Math.max(0, Math.min(...apartMm));
}

/** From the convex hull of two heads: the nearest of the circles that lead from one to the other is the one it lies square to. */
function outsideTwoMm(one: PlacedScrew, other: PlacedScrew, { x, y }: Point): number {
  const [dx, dy] = [other.at.x - one.at.x, other.at.y - one.at.y];
  const farMm = Math.hypot(dx, dy);
  const [px, py] = [x - one.at.x, y - one.at.y];
  const radiusMm = one.headDiameterMm / 2;
  if (farMm === 0) return Math.hypot(px, py) - Math.max(radiusMm, other.headDiameterMm / 2);
  const growth = (other.headDiameterMm / 2 - radiusMm) / farMm;
  const along = (px * dx + py * dy) / farMm;
  const aside = Math.abs(px * dy - py * dx) / farMm;
  const square = along + (growth * aside) / Math.sqrt(Math.max(1e-12, 1 - growth * growth));
  const at = Math.min(farMm, Math.max(0, square));
  return Math.hypot(along - at, aside) - radiusMm - growth * at;
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
