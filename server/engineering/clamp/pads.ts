import type { Cure } from '../finding.js';
import { threadDiameterMm } from '../fit/fasteners/iso-261-threads.js';
import { CAP_SCREWS } from '../fit/fasteners/iso-4762-screws.js';
import { stackMm } from '../fit/plate-with.js';
import { knownScrew } from '../fit/screw-seats.js';
import type { Moments } from '../geometry/area.js';
import { type Bounds, boundsMeet, boundsOfPoints } from '../geometry/bounds.js';
import type { Point } from '../geometry/point.js';
import type { BolsterFacts } from '../press-facts.js';
import { pressurePerNewton } from './bearing.js';
import type { ClampCase } from './clamp-case.js';
import { CLAMP_AXIS, closingRatio } from './closing.js';
import { momentsOfBoth, momentsWithout } from './joined-moments.js';
import { rectangleAt, toDrawing } from './land.js';

/** Sides a pad is sawn to, and the raster its middle is tried on, mm. A choice of ours: stock sizes, round figures. */
const SIDES_MM = [20, 30, 40, 60, 80];
const RASTER_MM = 10;
/** Room between pad and plate, and between pad and the face's edge, mm. A choice of ours. */
const GAP_MM = 3;
/** Metal kept round the sink of a pad's screw, mm. Common practice, no source. */
const RIM_MM = 3;

const SIZES = SIDES_MM.flatMap((widthMm) => SIDES_MM.map((heightMm) => ({ widthMm, heightMm }))).sort(
  (a, b) => a.widthMm * a.heightMm - b.widthMm * b.heightMm,
);

interface Spot {
  readonly at: Point;
  readonly widthMm: number;
  readonly heightMm: number;
  /** The free tapped hole that its screw goes into. */
  readonly screwAt: Point;
}

/**
 * A pad as high as the stack, screwed to the bolster's face beside the plate with a screw like the plate's, its head
 * sunk, that makes the plate close at `targetKn` or less even if the platens tilt: of the smallest that does, the
 * place where it closes at the least force. A block that is not screwed down falls between the closing faces, so a pad
 * lies over a tapped hole that is free or there is none. It counts as land, less its screw's sink, must press with and
 * without the melt, and must not be pressed harder than the land may be. Null when none fits on the face.
 */
export function padCure(given: ClampCase, targetKn: number): Cure | null {
  const plate = boundsOfPoints(given.land.outline);
  const holes = freeHolesBeside(plate, given);
  if (holes.length === 0) return null;
  const middles = [...holes, ...rasterBeside(plate, given.bolster)];
  for (const size of SIZES) {
    let best: { readonly spot: Spot; readonly closesFromKn: number } | null = null;
    for (const at of middles) {
      const screwAt = screwUnder({ at, ...size }, holes, given);
      if (screwAt === null) continue;
      const spot = { at, ...size, screwAt };
      if (!hasRoom(spot, plate, given.bolster)) continue;
      const closesFromKn = closesWith(spot, given);
      if (closesFromKn > targetKn || (best && closesFromKn >= best.closesFromKn)) continue;
      if (closesFromKn <= highestKn(spot, given)) best = { spot, closesFromKn };
    }
    if (best) return cureOf(best.spot, best.closesFromKn, given);
  }
  return null;
}

/** Tapped holes for the plate's screws that no screw of the plate uses and the plate does not cover. */
function freeHolesBeside(plate: Bounds, { bolster, registration, plate: facts }: ClampCase): Point[] {
  const taken = new Set(registration.matches.map(({ hole }) => hole));
  const screwMm = threadDiameterMm(facts.screw.size);
  return bolster.holes
    .filter(({ thread }, index) => !taken.has(index) && threadDiameterMm(thread) === screwMm)
    .map(({ at }) => at)
    .filter((at) => !boundsMeet(boundsOfPoints([at]), plate));
}

function rasterBeside(plate: Bounds, { face }: BolsterFacts): Point[] {
  const steps = (lengthMm: number) => {
    const count = Math.floor(lengthMm / 2 / RASTER_MM);
    return Array.from({ length: 2 * count + 1 }, (_, i) => (i - count) * RASTER_MM);
  };
  return steps(face.widthMm)
    .flatMap((x) => steps(face.heightMm).map((y) => ({ x: face.centre.x + x, y: face.centre.y + y })))
    .filter((at) => !boundsMeet(boundsOfPoints([at]), plate));
}

/** The hole nearest to the middle of a pad that has room in it for a sunk head and a rim; null when there is none. */
function screwUnder(
  { at, widthMm, heightMm }: Omit<Spot, 'screwAt'>,
  holes: readonly Point[],
  given: ClampCase,
): Point | null {
  const rimMm = sinkMm(given) / 2 + RIM_MM;
  const inside = holes.filter(
    (hole) =>
      Math.abs(hole.x - at.x) <= widthMm / 2 - rimMm && Math.abs(hole.y - at.y) <= heightMm / 2 - rimMm,
  );
  const off = (hole: Point) => Math.hypot(hole.x - at.x, hole.y - at.y);
  return inside.reduce<Point | null>(
    (best, hole) => (best === null || off(hole) < off(best) ? hole : best),
    null,
  );
}

function sinkMm({ plate }: ClampCase): number {
  return CAP_SCREWS[knownScrew(plate)].counterbore.diameterMm;
}

function hasRoom({ at, widthMm, heightMm }: Spot, plate: Bounds, { face }: BolsterFacts): boolean {
  const isOnFace =
    Math.abs(at.x - face.centre.x) <= (face.widthMm - widthMm) / 2 - GAP_MM &&
    Math.abs(at.y - face.centre.y) <= (face.heightMm - heightMm) / 2 - GAP_MM;
  return isOnFace && !boundsMeet(boundsOfPoints(rectangleAt(at, widthMm, heightMm)), plate, GAP_MM);
}

function closesWith(spot: Spot, given: ClampCase): number {
  const { land, force, press } = given;
  const rim = [...land.rim, ...rectangleAt(spot.at, spot.widthMm, spot.heightMm)];
  const { ratio } = closingRatio(momentsOfBoth(land.moments, momentsOfPad(spot, given)), rim, land.pushAt);
  return Math.max(press.clamp.minKn, Math.max(1, ratio) * force.requiredMaxKn);
}

/** The force at which land and pad, tilting, are pressed as hard as they may be anywhere, kN. */
function highestKn(spot: Spot, given: ClampCase): number {
  const { land, bearing, press } = given;
  const both = momentsOfBoth(land.moments, momentsOfPad(spot, given));
  const corners = [...land.hull, ...rectangleAt(spot.at, spot.widthMm, spot.heightMm)];
  const peakPerN = Math.max(...corners.map((corner) => pressurePerNewton(both, CLAMP_AXIS, corner)));
  return Math.min(press.clamp.maxKn, bearing.allowableMpa / peakPerN / 1000);
}

/** The pad's flat metal: its rectangle less the sink of its screw. */
function momentsOfPad({ at, widthMm, heightMm, screwAt }: Spot, given: ClampCase): Moments {
  const areaMm2 = widthMm * heightMm;
  const block = {
    areaMm2,
    centroid: at,
    ixxMm4: (areaMm2 * heightMm * heightMm) / 12,
    iyyMm4: (areaMm2 * widthMm * widthMm) / 12,
    ixyMm4: 0,
  };
  const radiusMm = sinkMm(given) / 2;
  const inertiaMm4 = (Math.PI * radiusMm ** 4) / 4;
  return momentsWithout(block, {
    areaMm2: Math.PI * radiusMm ** 2,
    centroid: screwAt,
    ixxMm4: inertiaMm4,
    iyyMm4: inertiaMm4,
    ixyMm4: 0,
  });
}

function cureOf(spot: Spot, closesFromKn: number, given: ClampCase): Cure {
  const { at, widthMm, heightMm, screwAt } = spot;
  const highMm = stackMm(given.plate);
  return {
    code: 'pads',
    amount: highMm,
    unit: 'mm',
    figures: {
      widthMm,
      heightMm,
      fromSprueXMm: at.x,
      fromSprueYMm: at.y,
      screwSize: given.plate.screw.size,
      screwXMm: screwAt.x,
      screwYMm: screwAt.y,
      stackMm: highMm,
      closesFromKn,
      highestKn: highestKn(spot, given),
    },
    at: toDrawing(at, given.land, given.drawing.feed.at),
  };
}
