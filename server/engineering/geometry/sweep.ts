import { ClipperOffset, EndType, JoinType, type Paths64 } from 'clipper2-ts';
import { arcPoints, CHORD_ERROR_MM, circleRing } from './arc.js';
import { cornerOf, fromGrid, STEPS_PER_MM, toGrid } from './clipper-grid.js';
import { refuseIntricate } from './intricacy.js';
import type { Point, Region, Ring } from './point.js';

/**
 * What a round cutter of diameter `widthMm` takes away along a path: round ends on an open path, none on a closed
 * one. A path of one point gives a disc.
 * @throws TooIntricate
 */
export function sweepPath(path: readonly Point[], widthMm: number, closed = false): Region {
  const [from, to] = path;
  if (!from) return [];
  if (!to) return [circleRing(from, widthMm)];
  if (from.x === to.x && from.y === to.y && path.length === 2) return [circleRing(from, widthMm)];
  if (path.length === 2) return [slot(from, to, widthMm)];
  return inflate([path], widthMm / 2, closed ? EndType.Joined : EndType.Round);
}

/** A region grown by `mm` all round with rounded corners, or shrunk where `mm` is negative. */
export function offsetBy(region: Region, mm: number): Region {
  return mm === 0 ? region : inflate(region, mm, EndType.Polygon);
}

/** One straight pass of the cutter: two sides and two half circles, counter-clockwise. */
function slot(from: Point, to: Point, widthMm: number): Ring {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const scale = widthMm / 2 / length;
  const along = { x: (to.x - from.x) * scale, y: (to.y - from.y) * scale };
  const right = { x: along.y, y: -along.x };
  const left = { x: -along.y, y: along.x };
  const back = { x: -along.x, y: -along.y };
  const halfTurn = { start: 0, sweep: Math.PI };
  return [
    ...arcPoints({ centre: to, u: right, v: along, ...halfTurn }),
    ...arcPoints({ centre: from, u: left, v: back, ...halfTurn }),
  ];
}

function inflate(paths: readonly (readonly Point[])[], mm: number, end: EndType): Region {
  refuseIntricate(paths, Math.abs(mm));
  const corner = cornerOf([paths]);
  const offset = new ClipperOffset(2, CHORD_ERROR_MM * STEPS_PER_MM);
  offset.addPaths(
    paths.map((path) => toGrid(path, corner)),
    JoinType.Round,
    end,
  );
  const solution: Paths64 = [];
  offset.execute(mm * STEPS_PER_MM, solution);
  return fromGrid(solution, corner);
}
