import type { Cure } from '../finding.js';
import type { Moments } from '../geometry/area.js';
import { type Bounds, boundsMeet, boundsOfPoints } from '../geometry/bounds.js';
import type { Point } from '../geometry/point.js';
import type { BolsterFacts, PlateFacts } from '../press-facts.js';
import { pressurePerNewton } from './bearing.js';
import type { ClampCase } from './clamp-case.js';
import { CLAMP_AXIS, closingRatio } from './closing.js';
import { momentsOfBoth } from './joined-moments.js';
import { rectangleAt, toDrawing } from './land.js';

/** Sides a pad is sawn to, and the raster its middle is tried on, mm. A choice of ours: stock sizes, round figures. */
const SIDES_MM = [20, 30, 40, 60, 80];
const RASTER_MM = 10;
/** Room between pad and plate, and between pad and the face's edge, mm. A choice of ours. */
const GAP_MM = 3;

const SIZES = SIDES_MM.flatMap((widthMm) => SIDES_MM.map((heightMm) => ({ widthMm, heightMm }))).sort(
  (a, b) => a.widthMm * a.heightMm - b.widthMm * b.heightMm,
);

interface Spot {
  readonly at: Point;
  readonly widthMm: number;
  readonly heightMm: number;
}

/**
 * A pad as high as the stack, on the bolster's face beside the plate, that makes the plate close at `targetKn` or
 * less even if the platens tilt: of the smallest that does, the place where it closes at the least force. It counts
 * as land, must press with and without the melt, and must not be pressed harder than the land may be. Null when
 * none fits on the face.
 */
export function padCure(given: ClampCase, targetKn: number): Cure | null {
  const spots = spotsBeside(boundsOfPoints(given.land.outline), given.bolster);
  for (const size of SIZES) {
    let best: { readonly spot: Spot; readonly closesFromKn: number } | null = null;
    for (const at of spots) {
      const spot = { at, ...size };
      if (!hasRoom(spot, boundsOfPoints(given.land.outline), given.bolster)) continue;
      const closesFromKn = closesWith(spot, given);
      if (closesFromKn > targetKn || (best && closesFromKn >= best.closesFromKn)) continue;
      if (peakMpa(spot, given, closesFromKn) <= given.bearing.allowableMpa) best = { spot, closesFromKn };
    }
    if (best) return cureOf(best.spot, best.closesFromKn, given);
  }
  return null;
}

function spotsBeside(plate: Bounds, { face }: BolsterFacts): Point[] {
  const steps = (lengthMm: number) => {
    const count = Math.floor(lengthMm / 2 / RASTER_MM);
    return Array.from({ length: 2 * count + 1 }, (_, i) => (i - count) * RASTER_MM);
  };
  return steps(face.widthMm)
    .flatMap((x) => steps(face.heightMm).map((y) => ({ x: face.centre.x + x, y: face.centre.y + y })))
    .filter((at) => !boundsMeet(boundsOfPoints([at]), plate));
}

function hasRoom({ at, widthMm, heightMm }: Spot, plate: Bounds, { face }: BolsterFacts): boolean {
  const isOnFace =
    Math.abs(at.x - face.centre.x) <= (face.widthMm - widthMm) / 2 - GAP_MM &&
    Math.abs(at.y - face.centre.y) <= (face.heightMm - heightMm) / 2 - GAP_MM;
  return isOnFace && !boundsMeet(boundsOfPoints(rectangleAt(at, widthMm, heightMm)), plate, GAP_MM);
}

function closesWith(spot: Spot, { land, force, press }: ClampCase): number {
  const rim = [...land.rim, ...rectangleAt(spot.at, spot.widthMm, spot.heightMm)];
  const { ratio } = closingRatio(momentsOfBoth(land.moments, momentsOfPad(spot)), rim, land.pushAt);
  return Math.max(press.clamp.minKn, Math.max(1, ratio) * force.requiredMaxKn);
}

function peakMpa(spot: Spot, { land }: ClampCase, clampKn: number): number {
  const both = momentsOfBoth(land.moments, momentsOfPad(spot));
  const corners = [...land.hull, ...rectangleAt(spot.at, spot.widthMm, spot.heightMm)];
  return clampKn * 1000 * Math.max(...corners.map((corner) => pressurePerNewton(both, CLAMP_AXIS, corner)));
}

function momentsOfPad({ at, widthMm, heightMm }: Spot): Moments {
  const areaMm2 = widthMm * heightMm;
  return {
    areaMm2,
    centroid: at,
    ixxMm4: (areaMm2 * heightMm * heightMm) / 12,
    iyyMm4: (areaMm2 * widthMm * widthMm) / 12,
    ixyMm4: 0,
  };
}

function cureOf({ at, widthMm, heightMm }: Spot, closesFromKn: number, given: ClampCase): Cure {
  const stackMm = stackOf(given.plate);
  return {
    code: 'pads',
    amount: stackMm,
    unit: 'mm',
    figures: { widthMm, heightMm, fromSprueXMm: at.x, fromSprueYMm: at.y, stackMm, closesFromKn },
    at: toDrawing(at, given.land, given.drawing.feed.at),
  };
}

function stackOf({ thicknessMm, facingThicknessMm, packerThicknessMm }: PlateFacts): number {
  return thicknessMm + facingThicknessMm + packerThicknessMm;
}
