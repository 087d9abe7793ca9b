import type { Cure } from '../finding.js';
import { inDrawing } from '../fit/placing.js';
import type { Moments } from '../geometry/area.js';
import { boundsMeet, boundsOfPoints } from '../geometry/bounds.js';
import type { Point, Ring } from '../geometry/point.js';
import type { BolsterFacts, PlateFacts, PressFacts } from '../press-facts.js';
import { momentsOfBoth, pressurePerNewton } from './bearing.js';
import { CLAMP_AXIS, closingRatio } from './closing.js';
import { type Land, rectangleAt } from './land.js';
import type { OpeningForce } from './opening-force.js';

/** Sides a pad is sawn to, and the raster its middle is tried on, mm. A choice of ours: stock sizes, round figures. */
const SIDES_MM = [20, 25, 30, 40, 50, 60, 80, 100];
const RASTER_MM = 5;
/** Room between pad and plate, and between pad and the face's edge, mm. A choice of ours. */
const GAP_MM = 3;

const SIZES = SIDES_MM.flatMap((widthMm) => SIDES_MM.map((heightMm) => ({ widthMm, heightMm }))).sort(
  (a, b) => a.widthMm * a.heightMm - b.widthMm * b.heightMm,
);

interface Pad {
  readonly at: Point;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly closesFromKn: number;
}

/**
 * A pad as high as the stack, on the bolster's face beside the plate, that makes the plate close at a settable force
 * even if the platens tilt: the smallest that does, where it closes at the least force. It counts as land, must
 * press with and without the melt, and must not be pressed harder than `allowableMpa`. Null when none fits.
 */
export function padCure(
  land: Land,
  force: OpeningForce,
  clamp: PressFacts['clamp'],
  bolster: BolsterFacts,
  plate: PlateFacts,
  feed: Point,
  allowableMpa: number,
): Cure | null {
  const places = { spots: rasterOf(bolster), plate: boundsOfPoints(land.outline), face: bolster.face };
  for (const size of SIZES) {
    const pad = bestPadOf(size, places, land, force, clamp, allowableMpa);
    if (pad) return cureOf(pad, land, plate, feed);
  }
  return null;
}

function bestPadOf(
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
  {
    spots,
    plate,
    face,
  }: { spots: readonly Point[]; plate: ReturnType<typeof boundsOfPoints>; face: BolsterFacts['face'] },
  land: Land,
  force: OpeningForce,
  clamp: PressFacts['clamp'],
  allowableMpa: number,
): Pad | null {
  const roomX = face.widthMm / 2 - widthMm / 2 - GAP_MM;
  const roomY = face.heightMm / 2 - heightMm / 2 - GAP_MM;
  let best: Pad | null = null;
  for (const at of spots) {
    if (Math.abs(at.x - face.centre.x) > roomX || Math.abs(at.y - face.centre.y) > roomY) continue;
    const corners = rectangleAt(at, widthMm, heightMm);
    if (boundsMeet(boundsOfPoints(corners), plate, GAP_MM)) continue;
    const closesFromKn = closesWith(corners, rectangleMoments(at, widthMm, heightMm), land, force, clamp);
    if (closesFromKn > Math.min(clamp.maxKn, best?.closesFromKn ?? Number.POSITIVE_INFINITY)) continue;
    if (peakMpa(corners, rectangleMoments(at, widthMm, heightMm), land, closesFromKn) > allowableMpa)
      continue;
    best = { at, widthMm, heightMm, closesFromKn };
  }
  return best;
}

function closesWith(
  corners: Ring,
  pad: Moments,
  land: Land,
  force: OpeningForce,
  { minKn }: PressFacts['clamp'],
): number {
  const { ratio } = closingRatio(momentsOfBoth(land.moments, pad), [...land.rim, ...corners], land.pushAt);
  return Math.max(minKn, Math.max(1, ratio) * force.requiredMaxKn);
}

function peakMpa(corners: Ring, pad: Moments, land: Land, clampKn: number): number {
  const both = momentsOfBoth(land.moments, pad);
  const pressures = [...land.hull, ...corners].map((point) => pressurePerNewton(both, CLAMP_AXIS, point));
  return clampKn * 1000 * Math.max(...pressures);
}

function rectangleMoments(centroid: Point, widthMm: number, heightMm: number): Moments {
  const areaMm2 = widthMm * heightMm;
  return {
    areaMm2,
    centroid,
    ixxMm4: (areaMm2 * heightMm * heightMm) / 12,
    iyyMm4: (areaMm2 * widthMm * widthMm) / 12,
    ixyMm4: 0,
  };
}

function rasterOf({ face }: BolsterFacts): Point[] {
  const half = (lengthMm: number) => Math.floor(lengthMm / 2 / RASTER_MM);
  const [columns, rows] = [half(face.widthMm), half(face.heightMm)];
  const steps = (count: number) => Array.from({ length: 2 * count + 1 }, (_, i) => (i - count) * RASTER_MM);
  return steps(columns).flatMap((x) =>
    steps(rows).map((y) => ({ x: face.centre.x + x, y: face.centre.y + y })),
  );
}

function cureOf(pad: Pad, { placement }: Land, plate: PlateFacts, feed: Point): Cure {
  const back = inDrawing(
    { x: pad.at.x - placement.shift.x, y: pad.at.y - placement.shift.y },
    placement.rotationDeg,
  );
  return {
    code: 'pads',
    amount: plate.thicknessMm + plate.facingThicknessMm + plate.packerThicknessMm,
    unit: 'mm',
    figures: {
      widthMm: pad.widthMm,
      heightMm: pad.heightMm,
      fromSprueXMm: pad.at.x,
      fromSprueYMm: pad.at.y,
      stackMm: plate.thicknessMm + plate.facingThicknessMm + plate.packerThicknessMm,
      closesFromKn: pad.closesFromKn,
    },
    at: { x: feed.x + back.x, y: feed.y + back.y },
  };
}
