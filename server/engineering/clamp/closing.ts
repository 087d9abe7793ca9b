import type { Moments } from '../geometry/area.js';
import type { Point } from '../geometry/point.js';
import { pressurePerNewton } from './bearing.js';

/** The clamp force acts here: on every press of this program the clamp axis is the sprue axis. */
export const CLAMP_AXIS: Point = { x: 0, y: 0 };

/** Less flat metal than this is no land: the faces do not meet, mm2. */
const LEAST_LAND_MM2 = 1;

/** Whether there is flat metal that can press at all. */
export function isLand({ areaMm2, ixxMm4, iyyMm4, ixyMm4 }: Moments): boolean {
  return areaMm2 >= LEAST_LAND_MM2 && ixxMm4 * iyyMm4 > ixyMm4 * ixyMm4;
}

/** How a plate closes between platens that are free to tilt. */
export interface Closing {
  /** The clamp force that just closes every rim point, over the opening force; infinite where none does. */
  readonly ratio: number;
  /** The rim point that opens first. */
  readonly worst: Point;
}

/**
 * Platens free to tilt, opening force 1 acting at `pushAt`: the clamp force N that just keeps the land pressing at
 * every point of the rim, N a(p) >= b(p) with a, b the land's pressure under a unit force at the clamp axis and at
 * `pushAt`. Where a <= 0 the plate gapes there before any melt comes, so that no force closes it.
 */
export function closingRatio(land: Moments, rim: readonly Point[], pushAt: Point): Closing {
  if (!isLand(land)) return { ratio: Number.POSITIVE_INFINITY, worst: pushAt };
  let worst: Closing = { ratio: Number.NEGATIVE_INFINITY, worst: pushAt };
  let leastGrip = Number.POSITIVE_INFINITY;
  for (const point of rim) {
    const grip = pressurePerNewton(land, CLAMP_AXIS, point);
    const push = pressurePerNewton(land, pushAt, point);
    const ratio = grip > 0 ? push / grip : Number.POSITIVE_INFINITY;
    const isWorse = ratio === Number.POSITIVE_INFINITY ? grip < leastGrip : ratio > worst.ratio;
    if (isWorse) worst = { ratio, worst: point };
    if (ratio === Number.POSITIVE_INFINITY) leastGrip = Math.min(leastGrip, grip);
  }
  return worst;
}

/**
 * The least pressure on the rim with the platens free to tilt, MPa, before and while the melt pushes: negative where
 * it gapes. Forces in kN.
 */
export function leastRimPressureMpa(
  land: Moments,
  rim: readonly Point[],
  pushAt: Point,
  clampKn: number,
  openingKn: number,
): number {
  const pressures = rim.flatMap((point) => {
    const clamped = clampKn * 1000 * pressurePerNewton(land, CLAMP_AXIS, point);
    return [clamped, clamped - openingKn * 1000 * pressurePerNewton(land, pushAt, point)];
  });
  return Math.min(...pressures);
}
