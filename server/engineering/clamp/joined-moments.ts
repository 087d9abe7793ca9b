import type { Moments } from '../geometry/area.js';
import type { Point } from '../geometry/point.js';

/** Area, centroid and second moments of two areas taken together, by the parallel-axis theorem. */
export function momentsOfBoth(a: Moments, b: Moments): Moments {
  const areaMm2 = a.areaMm2 + b.areaMm2;
  if (areaMm2 === 0) return { areaMm2: 0, centroid: a.centroid, ixxMm4: 0, iyyMm4: 0, ixyMm4: 0 };
  const centroid = {
    x: (a.areaMm2 * a.centroid.x + b.areaMm2 * b.centroid.x) / areaMm2,
    y: (a.areaMm2 * a.centroid.y + b.areaMm2 * b.centroid.y) / areaMm2,
  };
  const [one, other] = [movedTo(a, centroid), movedTo(b, centroid)];
  return {
    areaMm2,
    centroid,
    ixxMm4: one.ixxMm4 + other.ixxMm4,
    iyyMm4: one.iyyMm4 + other.iyyMm4,
    ixyMm4: one.ixyMm4 + other.ixyMm4,
  };
}

/** What is left of an area when a part that lies within it is taken away. */
export function momentsWithout(whole: Moments, part: Moments): Moments {
  return momentsOfBoth(whole, {
    areaMm2: -part.areaMm2,
    centroid: part.centroid,
    ixxMm4: -part.ixxMm4,
    iyyMm4: -part.iyyMm4,
    ixyMm4: -part.ixyMm4,
  });
}

/** The same area turned counter-clockwise, its centroid landing at `centroid`. */
export function turnedMoments(moments: Moments, angleRad: number, centroid: Point): Moments {
  const { areaMm2, ixxMm4, iyyMm4, ixyMm4 } = moments;
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return {
    areaMm2,
    centroid,
    ixxMm4: sin * sin * iyyMm4 + 2 * sin * cos * ixyMm4 + cos * cos * ixxMm4,
    iyyMm4: cos * cos * iyyMm4 - 2 * sin * cos * ixyMm4 + sin * sin * ixxMm4,
    ixyMm4: sin * cos * (iyyMm4 - ixxMm4) + (cos * cos - sin * sin) * ixyMm4,
  };
}

/** Second moments about another point than the centroid. */
function movedTo({ areaMm2, centroid, ixxMm4, iyyMm4, ixyMm4 }: Moments, pole: Point) {
  const dx = centroid.x - pole.x;
  const dy = centroid.y - pole.y;
  return {
    ixxMm4: ixxMm4 + areaMm2 * dy * dy,
    iyyMm4: iyyMm4 + areaMm2 * dx * dx,
    ixyMm4: ixyMm4 + areaMm2 * dx * dy,
  };
}
