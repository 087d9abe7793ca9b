import type { MeasuredDrawing, WaterChannel } from '../drawing/measured-drawing.js';
import { distanceBetween, distanceToPoint, type Separation } from '../geometry/distance.js';
import type { Point, Region } from '../geometry/point.js';
import type { PlateFacts } from '../press-facts.js';
import type { ScrewSeat } from './screw-seats.js';
import { type CutLevel, LEAST_METAL_MM, type Wall } from './wall.js';

/** Walls round the cooling bores: to cuts above or beside them, holes through the plate, its face and its back. */
export function waterWalls(
  drawing: MeasuredDrawing,
  plate: PlateFacts,
  cuts: readonly CutLevel[],
  seats: readonly ScrewSeat[],
): readonly Wall[] {
  return drawing.water.flatMap((channel, index) =>
    wallsRound(channel, drawing, plate, cuts, seats).map(({ boreDepthMm, ...wall }) => ({
      ...wall,
      bore: boreDepthMm === null ? null : { channel: index, depthMm: boreDepthMm },
    })),
  );
}

/** A wall as it is found, with the depth of the axis that would keep its limit. */
type BoreWall = Omit<Wall, 'bore'> & { readonly boreDepthMm: number | null };

function wallsRound(
  channel: WaterChannel,
  drawing: MeasuredDrawing,
  plate: PlateFacts,
  cuts: readonly CutLevel[],
  seats: readonly ScrewSeat[],
): readonly BoreWall[] {
  return [
    ...toFaces(channel, plate),
    ...cuts.flatMap((cut) => toCut(channel, cut, plate)),
    ...seats.flatMap(({ at, holeDiameterMm, sinkDiameterMm, sinkDepthMm }) => [
      ...toHole(channel, 'bolt', at, holeDiameterMm / 2),
      ...(sinkDiameterMm === null ? [] : toSink(channel, at, sinkDiameterMm / 2, sinkDepthMm, plate)),
    ]),
    ...drawing.dowels.flatMap(({ at, diameterMm }) => toHole(channel, 'dowel', at, diameterMm / 2)),
  ];
}

function waterWall(
  channel: WaterChannel,
  to: Wall['to'],
  apart: Separation,
  leftMm: number,
  boreDepthMm: number | null = null,
): BoreWall {
  return {
    of: 'water',
    to,
    leftMm,
    limitMm: LEAST_METAL_MM,
    mustNotMeet: true,
    at: apart.from,
    otherAt: apart.to,
    depthMm: channel.depthMm,
    boreDepthMm,
  };
}

/** A channel that is open at the back may be meant as a groove sealed on the bolster: a caution, not a stop. */
function toFaces(channel: WaterChannel, plate: PlateFacts): readonly BoreWall[] {
  const [start] = channel.path;
  if (start === undefined) return [];
  const apart = { distanceMm: 0, from: start, to: start };
  const radiusMm = channel.diameterMm / 2;
  const keepMm = LEAST_METAL_MM + radiusMm;
  const backMm = plate.thicknessMm - channel.depthMm - radiusMm;
  return [
    waterWall(channel, 'face', apart, channel.depthMm - radiusMm, roomAt(keepMm, channel, plate)),
    {
      ...waterWall(channel, 'back', apart, backMm, roomAt(plate.thicknessMm - keepMm, channel, plate)),
      mustNotMeet: false,
    },
  ];
}

/** From the bore's axis to the nearest edge of the cut's floor or wall, less the bore's radius. */
function toCut(channel: WaterChannel, cut: CutLevel, plate: PlateFacts): readonly BoreWall[] {
  const apart = distanceBetween(axisOf(channel), cut.region);
  if (apart === null) return [];
  const belowMm = Math.max(0, channel.depthMm - cut.depthMm);
  const leftMm = Math.hypot(apart.distanceMm, belowMm) - channel.diameterMm / 2;
  return [waterWall(channel, cut.kind, apart, leftMm, beneath(cut.depthMm, channel, plate))];
}

function toHole(
  channel: WaterChannel,
  kind: 'bolt' | 'dowel',
  at: Point,
  radiusMm: number,
): readonly BoreWall[] {
  const apart = distanceToPoint(axisOf(channel), at);
  if (apart === null) return [];
  return [waterWall(channel, kind, apart, apart.distanceMm - radiusMm - channel.diameterMm / 2)];
}

function toSink(
  channel: WaterChannel,
  at: Point,
  radiusMm: number,
  depthMm: number,
  plate: PlateFacts,
): readonly BoreWall[] {
  const apart = distanceToPoint(axisOf(channel), at);
  if (apart === null) return [];
  const asideMm = Math.max(0, apart.distanceMm - radiusMm);
  const leftMm = Math.hypot(asideMm, Math.max(0, channel.depthMm - depthMm)) - channel.diameterMm / 2;
  return [waterWall(channel, 'sink', apart, leftMm, beneath(depthMm, channel, plate))];
}

/** The axis depth that keeps the least metal under a floor, mm. */
function beneath(floorDepthMm: number, channel: WaterChannel, plate: PlateFacts): number | null {
  return roomAt(floorDepthMm + LEAST_METAL_MM + channel.diameterMm / 2, channel, plate);
}

/** That depth, if it leaves the least metal to face and back. */
function roomAt(depthMm: number, { diameterMm }: WaterChannel, { thicknessMm }: PlateFacts): number | null {
  const keepMm = LEAST_METAL_MM + diameterMm / 2 - 1e-9;
  return depthMm >= keepMm && depthMm <= thicknessMm - keepMm ? depthMm : null;
}

/** The bore's axis as a region without area: there and back along the path. */
function axisOf({ path }: WaterChannel): Region {
  return [[...path, ...path.slice(1, -1).reverse()]];
}
