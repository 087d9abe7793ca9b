import type { Point } from '../geometry/point.js';
import type { Placement } from './registration-result.js';

/** A motion while it is being worked on: an angle in radians and where the feed lands, mm. */
export interface Motion {
  readonly angleRad: number;
  readonly shift: Point;
}

/** Feed on the sprue and not turned: how a plate is looked at that no bolt holes place. */
export const AS_DRAWN: Placement = { rotationDeg: 0, shift: { x: 0, y: 0 } };

/** The vector turned counter-clockwise by `angleRad`. */
export function turned(vector: Point, angleRad: number): Point {
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return { x: cos * vector.x - sin * vector.y, y: sin * vector.x + cos * vector.y };
}

/** Where a drawing point lands on the bolster, mm from the sprue axis. */
export function landing(point: Point, feed: Point, placement: Placement): Point {
  const onAxes = turned({ x: point.x - feed.x, y: point.y - feed.y }, degToRad(placement.rotationDeg));
  return { x: onAxes.x + placement.shift.x, y: onAxes.y + placement.shift.y };
}

/** A direction on the bolster's axes, told in the drawing's. */
export function inDrawing(vector: Point, rotationDeg: number): Point {
  return turned(vector, -degToRad(rotationDeg));
}

export function degToRad(angleDeg: number): number {
  return (angleDeg * Math.PI) / 180;
}

/** Degrees in [0, 360), to a millionth, so that a whole turn is 0 and never 359.9999999. */
export function radToDeg(angleRad: number): number {
  const millionths = Math.round((angleRad * 180e6) / Math.PI) % 360e6;
  return (millionths < 0 ? millionths + 360e6 : millionths + 0) / 1e6;
}

/** The multiple of a quarter turn nearest to an angle, radians. */
export function nearestRightAngle(angleRad: number): number {
  return Math.round(angleRad / (Math.PI / 2)) * (Math.PI / 2);
}
