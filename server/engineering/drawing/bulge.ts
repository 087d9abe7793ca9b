import type { EllipticArc } from '../geometry/arc.js';
import type { Point } from '../geometry/point.js';

/** A bulge flatter than this many of the drawing's units is a straight line. */
const STRAIGHT = 1e-9;

/**
 * The arc from `a` to `b` whose bulge is the tangent of a quarter of its angle, positive counter-clockwise (DXF
 * reference, LWPOLYLINE group 42). Null for a straight line.
 */
export function bulgeArc(a: Point, b: Point, bulge: number): EllipticArc | null {
  const chordX = b.x - a.x;
  const chordY = b.y - a.y;
  const chord = Math.hypot(chordX, chordY);
  if (Math.abs(bulge) * chord <= STRAIGHT) return null;
  const towardsCentre = (1 - bulge * bulge) / (4 * bulge);
  const centre = {
    x: (a.x + b.x) / 2 - towardsCentre * chordY,
    y: (a.y + b.y) / 2 + towardsCentre * chordX,
  };
  const u = { x: a.x - centre.x, y: a.y - centre.y };
  return { centre, u, v: { x: -u.y, y: u.x }, start: 0, sweep: 4 * Math.atan(bulge) };
}
