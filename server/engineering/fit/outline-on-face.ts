import type { MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Point } from '../geometry/point.js';
import { degToRad } from './placing.js';
import type { Placement } from './registration-result.js';

/** How far the placed plate stands over each side of a rectangle, mm; negative where it lies inside by so much. */
export interface Overhang {
  readonly right: number;
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
}

export const SIDES = ['right', 'top', 'left', 'bottom'] as const;

export type Side = (typeof SIDES)[number];

/** A plate cut flush with the face floats by about this much on its screws; it counts as inside. Common practice, no source. */
export const FLUSH_MM = 0.05;

/** Overhang over a rectangle on the bolster's axes, seen on the face, mm. */
export function overhangOver(
  drawing: Pick<MeasuredDrawing, 'plate' | 'feed'>,
  placement: Placement,
  rectangle: { readonly widthMm: number; readonly heightMm: number; readonly centre: Point },
): Overhang {
  const cos = Math.cos(degToRad(placement.rotationDeg));
  const sin = Math.sin(degToRad(placement.rotationDeg));
  let left = Number.POSITIVE_INFINITY;
  let bottom = Number.POSITIVE_INFINITY;
  let right = Number.NEGATIVE_INFINITY;
  let top = Number.NEGATIVE_INFINITY;
  for (const point of drawing.plate.outline) {
    const fromFeedX = point.x - drawing.feed.at.x;
    const fromFeedY = point.y - drawing.feed.at.y;
    const x = cos * fromFeedX - sin * fromFeedY + placement.shift.x - rectangle.centre.x;
    const y = sin * fromFeedX + cos * fromFeedY + placement.shift.y - rectangle.centre.y;
    left = Math.min(left, x);
    right = Math.max(right, x);
    bottom = Math.min(bottom, y);
    top = Math.max(top, y);
  }
  return {
    right: right - rectangle.widthMm / 2,
    top: top - rectangle.heightMm / 2,
    left: -rectangle.widthMm / 2 - left,
    bottom: -rectangle.heightMm / 2 - bottom,
  };
}

/** The side that stands over most, or lies nearest to the edge. */
export function worstSide(overhang: Overhang): Side {
  return SIDES.reduce((worst, side) => (overhang[side] > overhang[worst] + 1e-9 ? side : worst));
}
