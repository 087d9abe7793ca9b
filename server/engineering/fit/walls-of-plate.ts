import type {
  CutFeature,
  DepthLevel,
  MeasuredDrawing,
  MeasuredFeature,
} from '../drawing/measured-drawing.js';
import { boundsMeet, boundsOf } from '../geometry/bounds.js';
import { regionContains } from '../geometry/contains.js';
import {
  boundaryDistance,
  boundaryDistanceToPoint,
  distanceBetween,
  type Separation,
} from '../geometry/distance.js';
import type { Point, Region } from '../geometry/point.js';
import type { PlateFacts } from '../press-facts.js';
import { threadDiameterMm } from './fasteners/iso-261-threads.js';
import { meltWalls } from './melt-walls.js';
import { screwOfGroup } from './screw-of-bolt.js';
import type { ScrewSeat } from './screw-seats.js';
import {
  type CutKind,
  type CutLevel,
  edgeWallMm,
  holeWallMm,
  LEAST_METAL_MM,
  sinkWallMm,
  type Wall,
} from './wall.js';
import { waterWalls } from './water-walls.js';

/** A round hole right through the plate; of a sunk bolt hole only what lies below its sink. */
interface RoundHole {
  readonly kind: 'bolt' | 'dowel';
  readonly at: Point;
  readonly radiusMm: number;
  readonly nominalMm: number;
  /** A cut no deeper than this meets only the sink, mm. */
  readonly fromDepthMm: number;
}

interface RoundSink {
  readonly at: Point;
  readonly radiusMm: number;
  readonly depthMm: number;
}

const MELT: readonly (readonly [CutFeature, CutKind])[] = [
  ['CAVITY', 'cavity'],
  ['RUNNER', 'runner'],
  ['GATE', 'gate'],
  ['FEED', 'feed'],
];

/** Farther off than this a wall never decides, mm. */
const FAR_MM = 60;

/** Every wall that could decide, in no order: melt, vents, holes, sinks and water against one another and the plate's end. */
export function wallsOfPlate(
  drawing: MeasuredDrawing,
  plate: PlateFacts,
  seats: readonly ScrewSeat[],
): readonly Wall[] {
  const melt = MELT.flatMap(([feature, kind]) => levelsOf(drawing.features[feature], kind));
  const vents = levelsOf(drawing.ventInsidePlate, 'vent');
  const holes = roundHoles(drawing, plate, seats);
  const sinks = seats.flatMap((seat): RoundSink[] =>
    seat.sinkDiameterMm === null
      ? []
      : [{ at: seat.at, radiusMm: seat.sinkDiameterMm / 2, depthMm: seat.sinkDepthMm }],
  );
  const allCuts = [...melt, ...vents];
  const outline: Region = [drawing.plate.outline];
  return [
    ...melt.flatMap((cut) => [...edgeWall(outline, cut), ...openingWall(drawing, cut)]),
    ...allCuts.flatMap((cut) => floorWall(plate, cut)),
    ...meltWalls(drawing),
    ...allCuts.flatMap((cut) => holes.flatMap((hole) => besideHole(cut, hole))),
    ...allCuts.flatMap((cut) => sinks.flatMap((sink) => besideSink(cut, sink))),
    ...rims(outline, drawing, plate, seats),
    ...waterWalls(drawing, plate, allCuts, seats),
  ];
}

function levelsOf(feature: MeasuredFeature | null, kind: CutKind): readonly CutLevel[] {
  return (feature?.levels ?? [])
    .filter((level: DepthLevel) => level.depthMm > 0 && level.region.length > 0)
    .map(({ depthMm, region }) => ({ kind, depthMm, region, bounds: boundsOf(region) }));
}

function nominalMm(plate: PlateFacts, { group }: ScrewSeat): number {
  return threadDiameterMm(screwOfGroup(plate, group).size) ?? 0;
}

function roundHoles(
  drawing: MeasuredDrawing,
  plate: PlateFacts,
  seats: readonly ScrewSeat[],
): readonly RoundHole[] {
  const bolts = seats.map(
    (seat): RoundHole => ({
      kind: 'bolt',
      at: seat.at,
      radiusMm: seat.holeDiameterMm / 2,
      nominalMm: nominalMm(plate, seat),
      fromDepthMm: seat.sinkDepthMm,
    }),
  );
  const dowels = drawing.dowels.map(
    ({ at, diameterMm }): RoundHole => ({
      kind: 'dowel',
      at,
      radiusMm: diameterMm / 2,
      nominalMm: diameterMm,
      fromDepthMm: 0,
    }),
  );
  return [...bolts, ...dowels];
}

function wall(
  cut: Pick<CutLevel, 'kind' | 'depthMm'>,
  to: Wall['to'],
  apart: Separation,
  leftMm: number,
  limitMm: number,
): Wall {
  const places = { at: apart.from, otherAt: apart.to };
  return {
    of: cut.kind,
    to,
    leftMm,
    limitMm,
    mustNotMeet: true,
    ...places,
    depthMm: cut.depthMm,
    bore: null,
  };
}

function edgeWall(outline: Region, cut: CutLevel): readonly Wall[] {
  const apart = boundaryDistance(cut.region, outline);
  const corner = cut.region[0]?.[0];
  if (apart === null || corner === undefined) return [];
  const isOutside = apart.distanceMm > 0 && !regionContains(outline, corner);
  const limitMm = edgeWallMm(cut.depthMm);
  if (!isOutside) return [wall(cut, 'edge', apart, apart.distanceMm, limitMm)];
  return [wall(cut, 'edge', turnedRound(apart), -apart.distanceMm, limitMm)];
}

/** Of two things that lie in one another: so that the way from the second place to the first leads apart. */
function turnedRound({ distanceMm, from, to }: Separation): Separation {
  return { distanceMm, from: to, to: from };
}

function openingWall({ plate }: MeasuredDrawing, cut: CutLevel): readonly Wall[] {
  const apart = plate.openings.length === 0 ? null : distanceBetween(cut.region, plate.openings);
  return apart === null ? [] : [wall(cut, 'opening', apart, apart.distanceMm, edgeWallMm(cut.depthMm))];
}

function floorWall({ thicknessMm }: PlateFacts, cut: CutLevel): readonly Wall[] {
  const at = deepestPlace(cut);
  const apart = { distanceMm: 0, from: at, to: at };
  return [wall(cut, 'back', apart, thicknessMm - cut.depthMm, LEAST_METAL_MM)];
}

/** A place on the cut to point at: there is nothing nearer the back than the rest of a flat floor. */
function deepestPlace({ region, bounds: { minX, maxX, minY, maxY } }: CutLevel): Point {
  const middle = { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
  return regionContains(region, middle) ? middle : (region[0]?.[0] ?? middle);
}

function besideHole(cut: CutLevel, hole: RoundHole): readonly Wall[] {
  if (cut.depthMm <= hole.fromDepthMm || isFar(cut, hole.at, hole.radiusMm)) return [];
  const limitMm = cut.kind === 'vent' ? 0 : holeWallMm(hole.nominalMm);
  return besideRound(cut, hole.kind, hole, limitMm);
}

function besideSink(cut: CutLevel, sink: RoundSink): readonly Wall[] {
  if (isFar(cut, sink.at, sink.radiusMm)) return [];
  return besideRound(cut, 'sink', sink, cut.kind === 'vent' ? 0 : sinkWallMm(cut.depthMm, sink.depthMm));
}

/** Negative by the whole way out where the middle of the round lies in the cut. */
function besideRound(
  cut: CutLevel,
  to: Wall['to'],
  { at, radiusMm }: { readonly at: Point; readonly radiusMm: number },
  limitMm: number,
): readonly Wall[] {
  const rim = boundaryDistanceToPoint(cut.region, at);
  if (rim === null) return [];
  if (!regionContains(cut.region, at)) return [wall(cut, to, rim, rim.distanceMm - radiusMm, limitMm)];
  return [wall(cut, to, turnedRound(rim), -rim.distanceMm - radiusMm, limitMm)];
}

function isFar({ bounds }: CutLevel, { x, y }: Point, radiusMm: number): boolean {
  return !boundsMeet(bounds, { minX: x, maxX: x, minY: y, maxY: y }, FAR_MM + radiusMm);
}

/** Half a screw diameter of metal round sinks and holes to the plate's edge, and half a dowel's round dowels. */
function rims(
  outline: Region,
  { dowels }: MeasuredDrawing,
  facts: PlateFacts,
  seats: readonly ScrewSeat[],
): readonly Wall[] {
  const rim = (
    kind: CutKind,
    at: Point,
    radiusMm: number,
    screwMm: number,
    depthMm: number,
  ): readonly Wall[] => {
    const nearest = boundaryDistanceToPoint(outline, at);
    if (nearest === null) return [];
    const apart = turnedRound(nearest);
    const isInside = regionContains(outline, at);
    const leftMm = (isInside ? apart.distanceMm : -apart.distanceMm) - radiusMm;
    return [{ ...wall({ kind, depthMm }, 'edge', apart, leftMm, screwMm / 2), mustNotMeet: kind !== 'sink' }];
  };
  return [
    ...seats.flatMap((seat) =>
      seat.sinkDiameterMm === null
        ? rim('bolt', seat.at, seat.holeDiameterMm / 2, nominalMm(facts, seat), facts.thicknessMm)
        : [
            ...rim('sink', seat.at, seat.sinkDiameterMm / 2, nominalMm(facts, seat), seat.sinkDepthMm),
            ...rim('bolt', seat.at, seat.holeDiameterMm / 2, nominalMm(facts, seat), facts.thicknessMm),
          ],
    ),
    ...dowels.flatMap(({ at, diameterMm }) =>
      rim('dowel', at, diameterMm / 2, diameterMm, facts.thicknessMm),
    ),
  ];
}
