import type { Point, Ring } from './point.js';

/**
 * How far a straight piece may lie from the curve it stands for, mm. A convention of plate drawings allows
 * 0.01 mm; half of it costs little and keeps areas and walls well inside that.
 */
export const CHORD_ERROR_MM = 0.005;

/**
 * Equal steps for a turn of `turnRad` at radius `radiusMm` so that no chord lies more than the chord error inside
 * the arc: e = r (1 - cos(step / 2)) = 2 r sin²(step / 4). At least four steps a quarter turn, however small the circle.
 */
export function arcSteps(radiusMm: number, turnRad: number, chordErrorMm = CHORD_ERROR_MM): number {
  const widest = Math.PI / 8;
  const step = radiusMm > chordErrorMm ? 4 * Math.asin(Math.sqrt(chordErrorMm / radiusMm / 2)) : widest;
  return Math.max(1, Math.ceil(Math.abs(turnRad) / Math.min(step, widest) - 1e-9));
}

/** A circle as a counter-clockwise ring within the chord error, starting to the right of its centre. */
export function circleRing(centre: Point, diameterMm: number): Ring {
  const radius = diameterMm / 2;
  const steps = arcSteps(radius, 2 * Math.PI);
  return Array.from({ length: steps }, (_, i) => {
    const turn = (2 * Math.PI * i) / steps;
    return { x: centre.x + radius * Math.cos(turn), y: centre.y + radius * Math.sin(turn) };
  });
}
