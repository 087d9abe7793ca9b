import { ClipperOffset, EndType, JoinType, type Paths64 } from 'clipper2-ts';
import { arcSteps, CHORD_ERROR_MM, circleRing } from './arc.js';
import { cornerOf, fromGrid, STEPS_PER_MM, toGrid } from './clipper-grid.js';
import type { Point, Region, Ring } from './point.js';

/**
 * What a round cutter of diameter `widthMm` takes away along a path: round ends on an open path, none on a closed
 * one. A path of one point gives a disc.
 */
export function sweepPath(path: readonly Point[], widthMm: number, closed = false): Region {
  const [from, to] = path;
  if (!from) return [];
  if (!to) return [circleRing(from, widthMm)];
  if (path.length === 2) return [slot(from, to, widthMm)];
  return inflate([path], widthMm / 2, closed ? EndType.Joined : EndType.Round);
}

/** A region grown by `mm` all round with rounded corners, or shrunk where `mm` is negative. */
export function offsetBy(region: Region, mm: number): Region {
  return mm === 0 ? region : inflate(region, mm, EndType.Polygon);
}

/** One straight pass of the cutter: two sides and two half circles, counter-clockwise. */
function slot(from: Point, to: Point, widthMm: number): Ring {
  const radius = widthMm / 2;
  const along = Math.atan2(to.y - from.y, to.x - from.x);
  const steps = arcSteps(radius, Math.PI);
  const halfCircle = (centre: Point, start: number) =>
    Array.from({ length: steps + 1 }, (_, i) => {
      const turn = start + (Math.PI * i) / steps;
      return { x: centre.x + radius * Math.cos(turn), y: centre.y + radius * Math.sin(turn) };
    });
  return [...halfCircle(to, along - Math.PI / 2), ...halfCircle(from, along + Math.PI / 2)];
}

function inflate(paths: readonly (readonly Point[])[], mm: number, end: EndType): Region {
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
