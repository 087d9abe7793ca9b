import type { Point } from '../geometry/point.js';

/** Where a block or the whole drawing comes to lie: (x, y) goes to (a x + c y + e, b x + d y + f), in mm. */
export interface Placement {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export function scaled(sx: number, sy = sx): Placement {
  return { a: sx, b: 0, c: 0, d: sy, e: 0, f: 0 };
}

export function shifted(x: number, y: number): Placement {
  return { a: 1, b: 0, c: 0, d: 1, e: x, f: y };
}

export function turned(degrees: number): Placement {
  const { x: cos, y: sin } = direction(degrees);
  return { a: cos, b: sin, c: -sin, d: cos, e: 0, f: 0 };
}

/** Left to right by a turn of the drawing plane, which an extrusion of (0, 0, -1) stands for. */
export const MIRRORED = scaled(-1, 1);

/** First `inner`, then `outer`. */
export function within(outer: Placement, inner: Placement): Placement {
  return {
    a: outer.a * inner.a + outer.c * inner.b,
    b: outer.b * inner.a + outer.d * inner.b,
    c: outer.a * inner.c + outer.c * inner.d,
    d: outer.b * inner.c + outer.d * inner.d,
    e: outer.a * inner.e + outer.c * inner.f + outer.e,
    f: outer.b * inner.e + outer.d * inner.f + outer.f,
  };
}

export function place({ a, b, c, d, e, f }: Placement, x: number, y: number): Point {
  return { x: a * x + c * y + e, y: b * x + d * y + f };
}

/** A length and direction, without the shift. */
export function placeVector({ a, b, c, d }: Placement, x: number, y: number): Point {
  return { x: a * x + c * y, y: b * x + d * y };
}

/** The unit vector at an angle, exact for quarter turns. */
export function direction(degrees: number): Point {
  const quarter = degrees / 90;
  if (Number.isInteger(quarter)) return QUARTERS[((quarter % 4) + 4) % 4] as Point;
  const turn = (degrees * Math.PI) / 180;
  return { x: Math.cos(turn), y: Math.sin(turn) };
}

const QUARTERS: readonly Point[] = [
  { x: 1, y: 0 },
  { x: 0, y: 1 },
  { x: -1, y: 0 },
  { x: 0, y: -1 },
];
