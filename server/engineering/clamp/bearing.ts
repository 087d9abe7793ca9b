import type { Moments } from '../geometry/area.js';
import type { Point } from '../geometry/point.js';

/**
 * Pressure at `point` of a flat land that carries a force of 1 N at `at`, MPa; negative where it would lift. Platens
 * free to tilt: rigid, full contact, p = 1/A + bending about the land's own centroid and general axes. For a
 * rectangle b long loaded e off its middle that is (1/A)(1 +- 6e/b).
 * Source: section under eccentric load, sigma = P/A +- M/Z (expertsmind.com, eccentrically loaded sections).
 */
export function pressurePerNewton(
  { areaMm2, centroid, ixxMm4, iyyMm4, ixyMm4 }: Moments,
  at: Point,
  point: Point,
): number {
  const ax = at.x - centroid.x;
  const ay = at.y - centroid.y;
  const px = point.x - centroid.x;
  const py = point.y - centroid.y;
  const determinant = iyyMm4 * ixxMm4 - ixyMm4 * ixyMm4;
  const bending = ax * (ixxMm4 * px - ixyMm4 * py) + ay * (iyyMm4 * py - ixyMm4 * px);
  return 1 / areaMm2 + bending / determinant;
}
