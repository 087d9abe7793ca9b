import type { Cure } from '../finding.js';
import { type ScrewSize, threadDiameterMm } from '../fit/fasteners/iso-261-threads.js';
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
  readonly screw: FreeHole;
}

/** A free tapped hole that a pad's screw goes into, and which of the plate's screws that is. */
interface FreeHole {
  readonly at: Point;
  readonly size: ScrewSize;
}

/**
 * A pad as high as the stack, screwed to the bolster's face beside the plate with a screw like one of the plate's, its head
 * sunk, that makes the plate close at `targetKn` or less even if the platens tilt: of the smallest that does, the
 * place where it closes at the least force. A block that is not screwed down falls between the closing faces, so a pad
 * lies over a tapped hole that is free or there is none. It counts as land, less its screw's sink, must press with and
 * without the melt, and must not be pressed harder than the land may be. Null when none fits on the face.
 */
export function padCure(given: ClampCase, targetKn: number): Cure | null {
  const plate = boundsOfPoints(given.land.outline);
  const holes = freeHolesBeside(plate, given);
  if (holes.length === 0) return null;
  const middles = [...holes.map(({ at }) => at), ...rasterBeside(plate, given.bolster)];
  for (const size of SIZES) {
    let best: { readonly spot: Spot; readonly closesFromKn: number } | null = null;
    for (const at of middles) {
      const screw = screwUnder({ at, ...size }, holes);
      if (screw === null) continue;
      const spot = { at, ...size, screw };
      if (!hasRoom(spot, plate, given.bolster)) continue;
      const closesFromKn = closesWith(spot, given);
      if (closesFromKn > targetKn || (best && closesFromKn >= best.closesFromKn)) continue;
      if (closesFromKn <= highestKn(spot, given)) best = { spot, closesFromKn };
    }
    if (best) return cureOf(best.spot, best.closesFromKn, given);
  }
  return null;
}

/** Tapped holes for one of the plate's screws that no screw of the plate uses and the plate does not cover. */
function freeHolesBeside(plate: Bounds, { bolster, registration, plate: facts }: ClampCase): FreeHole[] {
  const taken = new Set(registration.matches.map(({ hole }) => hole));
  const sizes = [facts.screw, ...facts.screwGroups.map(({ screw }) => screw)].map((screw) =>
    knownScrew({ screw }),
  );
  return bolster.holes.flatMap(({ at, thread }, index) => {
    const size = sizes.find((one) => threadDiameterMm(one) === threadDiameterMm(thread));
    if (size === undefined || taken.has(index) || boundsMeet(boundsOfPoints([at]), plate)) return [];
    return [{ at, size }];
  });
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
  { at, widthMm, heightMm }: Omit<Spot, 'screw'>,
  holes: readonly FreeHole[],
): FreeHole | null {
  const off = (hole: FreeHole) => Math.hypot(hole.at.x - at.x, hole.at.y - at.y);
  const inside = holes.filter(({ at: hole, size }) => {
    const rimMm = sinkMm(size) / 2 + RIM_MM;
    return Math.abs(hole.x - at.x) <= widthMm / 2 - rimMm && Math.abs(hole.y - at.y) <= heightMm / 2 - rimMm;
  });
  return inside.reduce<FreeHole | null>(
    (best, hole) => (best === null || off(hole) < off(best) ? hole : best),
    null,
  );
}

function sinkMm(size: ScrewSize): number {
  return CAP_SCREWS[size].counterbore.diameterMm;
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
  const { ratio } = closingRatio(momentsOfBoth(land.moments, momentsOfPad(spot)), rim, land.pushAt);
  return Math.max(press.clamp.minKn, Math.max(1, ratio) * force.requiredMaxKn);
}

/** The force at which land and pad, tilting, are pressed as hard as they may be anywhere, kN. */
function highestKn(spot: Spot, given: ClampCase): number {
  const { land, bearing, press } = given;
  const both = momentsOfBoth(land.moments, momentsOfPad(spot));
  const corners = [...land.hull, ...rectangleAt(spot.at, spot.widthMm, spot.heightMm)];
  const peakPerN = Math.max(...corners.map((corner) => pressurePerNewton(both, CLAMP_AXIS, corner)));
  return Math.min(press.clamp.maxKn, bearing.allowableMpa / peakPerN / 1000);
}

/** The pad's flat metal: its rectangle less the sink of its screw. */
function momentsOfPad({ at, widthMm, heightMm, screw }: Spot): Moments {
  const areaMm2 = widthMm * heightMm;
  const block = {
    areaMm2,
    centroid: at,
    ixxMm4: (areaMm2 * heightMm * heightMm) / 12,
    iyyMm4: (areaMm2 * widthMm * widthMm) / 12,
    ixyMm4: 0,
  };
  const radiusMm = sinkMm(screw.size) / 2;
  const inertiaMm4 = (Math.PI * radiusMm ** 4) / 4;
  return momentsWithout(block, {
    areaMm2: Math.PI * radiusMm ** 2,
    centroid: screw.at,
    ixxMm4: inertiaMm4,
    iyyMm4: inertiaMm4,
    ixyMm4: 0,
  });
}

function cureOf(spot: Spot, closesFromKn: number, given: ClampCase): Cure {
  const { at, widthMm, heightMm, screw } = spot;
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
      screwSize: screw.size,
      screwXMm: screw.at.x,
      screwYMm: screw.at.y,
      stackMm: highMm,
      closesFromKn,
      highestKn: highestKn(spot, given),
    },
    at: toDrawing(at, given.land, given.drawing.feed.at),
  };
}
