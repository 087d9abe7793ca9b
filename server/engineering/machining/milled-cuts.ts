import type { DepthLevel, MeasuredDrawing } from '../drawing/measured-drawing.js';
import { type Bounds, boundsHave, boundsOf } from '../geometry/bounds.js';
import { regionContains } from '../geometry/contains.js';
import type { Point } from '../geometry/point.js';
import type { MilledFeature, PlateFacts } from '../press-facts.js';
import { cutterGiven, type FormOfCut, formOfCut, narrowerAtFloorMm } from './cutter-form.js';
import { type InsideCorner, insideCorners, radiusLeaving, staysMm } from './inside-corners.js';
import { type NarrowPlace, narrowestPlace } from './narrowest-place.js';
import { rimOf } from './rim.js';
import { enters, thickestUpTo, thinnestFrom, WORKSHOP_CUTTERS } from './workshop-cutters.js';

/** One kind of cut at one depth, and the cutter that finishes it. */
export interface MilledCut {
  readonly feature: MilledFeature;
  readonly depthMm: number;
  readonly form: FormOfCut;
  /** Where it is narrowest, at the face; null where that does not limit its cutter. */
  readonly narrowest: NarrowPlace | null;
  /** The same at its floor, mm. */
  readonly floorWidthMm: number | null;
  /** At the tip, mm; null when none of the workshop's cutters enters. */
  readonly cutterMm: number | null;
  readonly cutterIsGiven: boolean;
  /** How deep a cutter of that diameter usually reaches, mm. */
  readonly reachMm: number;
  /** Corners it cannot cut out, the one with the most left first. */
  readonly corners: readonly InsideCorner[];
  /** In the first of them, mm; 0 where there are none. */
  readonly staysMm: number;
}

/** A finishing cutter is no thicker than needed for its depth, and no thinner than it must. Common practice, no source. */
const USUAL_MM = { cavity: 4, runner: 6, gate: 6, feed: 6, vent: 6 } as const;

/** What may stay in a corner before a thinner cutter is taken for it, mm. Common practice, no source. */
const CORNER_LEFT_MM = 0.5;

/** Thin ones in no table reach so many diameters. Common practice, no source. */
const REACH_DIAMETERS = 5;

type Drawing = Pick<MeasuredDrawing, 'features' | 'ventInsidePlate' | 'ways' | 'feed'>;
type Given = Pick<PlateFacts, 'cutters' | 'draftDeg'>;

/**
 * Every cut of a drawing with the cutter that finishes it: of its form, no thicker than its narrowest place at the
 * floor, long enough where one is, and thin enough for a cavity's inside corners where that is still long enough.
 */
export function milledCuts(drawing: Drawing, plate: Given): readonly MilledCut[] {
  const deeper = deeperIn(drawing);
  return [
    ...cavityCuts(drawing, plate, deeper),
    ...wayCuts(drawing, plate, deeper, 'runner'),
    ...wayCuts(drawing, plate, deeper, 'gate'),
    feedCut(drawing, plate),
    ...wayCuts(drawing, plate, deeper, 'vent'),
  ];
}

type Deeper = (depthMm: number) => (at: Point) => boolean;

function cavityCuts({ features }: Drawing, plate: Given, deeper: Deeper): readonly MilledCut[] {
  const levels = features.CAVITY?.levels ?? [];
  return levels.map(({ depthMm, region }, level) => {
    const rim = rimOf(
      region,
      levels.slice(level + 1).map((below) => below.region),
    );
    const mostMm = mostNeededMm('cavity', depthMm, plate);
    const cutAsDeep = deeper(depthMm);
    return milledCut('cavity', depthMm, plate, {
      narrowest: narrowestPlace(rim, lookedMm('cavity', depthMm, plate), cutAsDeep),
      corners: insideCorners(rim, mostMm / 2, cutAsDeep),
    });
  });
}

const WAYS = { runner: 'RUNNER', gate: 'GATE', vent: 'VENT' } as const;

/** Runners, gates and vents: a pass along a line is as wide as it is drawn, a pocket is measured. */
function wayCuts(
  { ways }: Drawing,
  plate: Given,
  deeper: Deeper,
  feature: keyof typeof WAYS,
): readonly MilledCut[] {
  const own = ways.filter((way) => way.feature === WAYS[feature]);
  const depths = [...new Set(own.map(({ depthMm }) => depthMm))].sort((a, b) => a - b);
  return depths.map((depthMm) => {
    const places = own
      .filter((way) => way.depthMm === depthMm)
      .map((way) =>
        way.kind === 'channel'
          ? { widthMm: way.widthMm, at: way.path[Math.floor(way.path.length / 2)] as Point }
          : narrowestPlace(rimOf([way.ring], []), lookedMm(feature, depthMm, plate), deeper(depthMm)),
      );
    return milledCut(feature, depthMm, plate, { narrowest: narrowestOf(places), corners: [] });
  });
}

function narrowestOf(places: readonly (NarrowPlace | null)[]): NarrowPlace | null {
  return places.reduce(
    (narrowest, place) =>
      place === null || (narrowest !== null && narrowest.widthMm <= place.widthMm) ? narrowest : place,
    null,
  );
}

function feedCut({ feed }: Drawing, plate: Given): MilledCut {
  const narrowest = { widthMm: feed.diameterMm, at: feed.at };
  return milledCut('feed', feed.depthMm, plate, { narrowest, corners: [] });
}

/** No thicker cutter than this is of interest, mm. */
function mostNeededMm(feature: MilledFeature, depthMm: number, plate: Given): number {
  return Math.max(USUAL_MM[feature], longEnoughMm(depthMm), cutterGiven(plate, feature)?.diameterMm ?? 0);
}

/** Nor a place wider than this, mm: at the face, where the taper makes it wider. */
function lookedMm(feature: MilledFeature, depthMm: number, plate: Given): number {
  const { taperDeg } = formOfCut(plate, feature, depthMm);
  return mostNeededMm(feature, depthMm, plate) + narrowerAtFloorMm(depthMm, taperDeg);
}

function milledCut(
  feature: MilledFeature,
  depthMm: number,
  plate: Given,
  { narrowest, corners }: Pick<MilledCut, 'narrowest' | 'corners'>,
): MilledCut {
  const usual = formOfCut(plate, feature, depthMm);
  const form = roomForTaper(usual, depthMm, narrowest) ? usual : FLAT_FOR_ROOM;
  const floorWidthMm =
    narrowest === null ? null : narrowest.widthMm - narrowerAtFloorMm(depthMm, form.taperDeg);
  const given = cutterGiven(plate, feature)?.diameterMm ?? null;
  const cutterMm = given ?? chosenMm(mostNeededMm(feature, depthMm, plate), floorWidthMm, depthMm, corners);
  const left = cornersLeft(corners, cutterMm ?? 0);
  const [most] = left;
  return {
    feature,
    depthMm,
    form,
    narrowest,
    floorWidthMm,
    cutterMm,
    cutterIsGiven: given !== null,
    reachMm: reachOf(cutterMm ?? 0),
    corners: left,
    staysMm: most === undefined ? 0 : staysMm(most, (cutterMm ?? 0) / 2),
  };
}

const FLAT_FOR_ROOM: FormOfCut = { form: 'flat', taperDeg: 0, why: 'no-room-for-taper' };

/** The usual taper is left away where it would call for a cutter that does not reach, or for none; what is given stays. */
function roomForTaper(form: FormOfCut, depthMm: number, narrowest: NarrowPlace | null): boolean {
  if (form.why !== 'must-release' || narrowest === null) return true;
  const cutter = thickestUpTo(narrowest.widthMm - narrowerAtFloorMm(depthMm, form.taperDeg));
  return cutter !== null && cutter.reachMm >= depthMm;
}

function chosenMm(
  mostMm: number,
  floorWidthMm: number | null,
  depthMm: number,
  corners: readonly InsideCorner[],
): number | null {
  const room = floorWidthMm === null ? mostMm : Math.min(mostMm, floorWidthMm);
  const entering = thickestUpTo(room);
  if (entering === null) return null;
  const forCornersMm = Math.min(
    ...corners.map((corner) => 2 * radiusLeaving(corner, corner.radiusMm > 0 ? 0 : CORNER_LEFT_MM)),
  );
  if (forCornersMm >= entering.diameterMm) return entering.diameterMm;
  const thinner = thickestUpTo(Math.max(forCornersMm, longEnoughMm(depthMm)));
  return Math.min(entering.diameterMm, thinner?.diameterMm ?? entering.diameterMm);
}

/** The thinnest of the workshop's cutters that reaches so deep, mm. */
function longEnoughMm(depthMm: number): number {
  return (
    WORKSHOP_CUTTERS.find(({ reachMm }) => reachMm >= depthMm)?.diameterMm ??
    thinnestFrom(Infinity).diameterMm
  );
}

/** How deep a cutter of a diameter usually reaches, mm. */
export function reachOf(diameterMm: number): number {
  const nearest = WORKSHOP_CUTTERS.findLast((cutter) => cutter.diameterMm <= diameterMm + 1e-9);
  return nearest?.reachMm ?? REACH_DIAMETERS * diameterMm;
}

function cornersLeft(corners: readonly InsideCorner[], cutterMm: number): readonly InsideCorner[] {
  const radiusMm = cutterMm / 2;
  return corners
    .filter((corner) => !enters(cutterMm, 2 * corner.radiusMm) && staysMm(corner, radiusMm) > LEFT_MM)
    .sort((a, b) => staysMm(b, radiusMm) - staysMm(a, radiusMm));
}

/** Less than this is what any milled wall is off, mm. Common practice, no source. */
const LEFT_MM = 0.02;

/** Whether anything is cut at least so deep at a point. */
function deeperIn({ features, ventInsidePlate }: Drawing): Deeper {
  const { CAVITY, RUNNER, GATE, FEED } = features;
  let all: readonly (DepthLevel & { readonly bounds: Bounds })[] | null = null;
  return (depthMm) => (at) => {
    all ??= [CAVITY, RUNNER, GATE, FEED, ventInsidePlate]
      .flatMap((cut) => cut?.levels ?? [])
      .map((level) => ({ ...level, bounds: boundsOf(level.region) }));
    return all.some(
      (level) =>
        level.depthMm >= depthMm - 1e-9 && boundsHave(level.bounds, at) && regionContains(level.region, at),
    );
  };
}
