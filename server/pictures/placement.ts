import type { MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import type { Registration } from '../engineering/fit/registration-result.js';
import type { Point } from '../engineering/geometry/point.js';

/**
 * Where a point of the drawing lands on the bolster, in the picture's axes: mm, x right, y down, origin on the
 * sprue. A plate that no placement is known of is shown as drawn, its feed on the sprue.
 */
export function placementOf(
  drawing: MeasuredDrawing,
  registration: Pick<Registration, 'placement'>,
): (point: Point) => Point {
  const { rotationDeg, shift } = registration.placement ?? { rotationDeg: 0, shift: { x: 0, y: 0 } };
  const angle = (rotationDeg * Math.PI) / 180;
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const feed = drawing.feed.at;
  return ({ x, y }) => ({
    x: cos * (x - feed.x) - sin * (y - feed.y) + shift.x,
    y: -(sin * (x - feed.x) + cos * (y - feed.y) + shift.y),
  });
}
