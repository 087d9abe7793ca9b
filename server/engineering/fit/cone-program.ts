/**
 * One limit on a small motion of the plate: |start + turn * lever + shift| <= room + loosens * slack.
 * `turn` is an arc length on the radius the levers were divided by, so all four unknowns are in mm.
 */
export interface Cone {
  readonly startX: number;
  readonly startY: number;
  readonly leverX: number;
  readonly leverY: number;
  readonly room: number;
  /** 1 when the sought slack widens this limit, 0 when the limit is hard. */
  readonly loosens: 0 | 1;
}

export interface SmallMotion {
  readonly turn: number;
  readonly x: number;
  readonly y: number;
  readonly slack: number;
}

/** The unknowns are kept within these, mm; far beyond any float, they only keep the problem bounded. */
const LARGEST_TURN_MM = 50;
const LARGEST_SHIFT_MM = 1000;
/** The barrier stops when its duality gap, twice the number of limits over the weight, is below this, mm. */
const GAP_MM = 4e-6;
const WEIGHT_STEP = 12;
const NEWTON_STEPS = 30;

type Vector4 = [number, number, number, number];

/**
 * The small motion with the least slack that keeps all limits: a second-order cone program in four unknowns,
 * solved by following the logarithmic barrier of the cones with damped Newton steps (Boyd and Vandenberghe,
 * Convex Optimization, chapter 11).
 *
 * @param cones the limits; at least one must loosen with the slack
 * @param from  a motion that keeps every limit with room to spare
 * @returns the motion; its slack is within 4e-6 mm of the least one
 */
export function leastSlack(cones: readonly Cone[], from: SmallMotion): SmallMotion {
  let at: Vector4 = [from.turn, from.x, from.y, from.slack];
  const lastWeight = (2 * (cones.length + 2)) / GAP_MM;
  for (let weight = 10; ; weight = Math.min(weight * WEIGHT_STEP, lastWeight)) {
    at = centred(cones, weight, at);
    if (weight >= lastWeight) return { turn: at[0], x: at[1], y: at[2], slack: at[3] };
  }
}

/** Newton steps on weight * slack + barrier until the decrement is negligible. */
function centred(cones: readonly Cone[], weight: number, from: Vector4): Vector4 {
  let at = from;
  let value = barrier(cones, weight, at);
  for (let step = 0; step < NEWTON_STEPS; step++) {
    const { gradient, hessian } = derivatives(cones, weight, at);
    const direction = solved(hessian, gradient);
    const decrement =
      direction[0] * gradient[0] +
      direction[1] * gradient[1] +
      direction[2] * gradient[2] +
      direction[3] * gradient[3];
    if (!(decrement > 1e-6)) return at;
    let length = 1;
    let next = stepped(at, direction, length);
    let nextValue = barrier(cones, weight, next);
    while (!(nextValue <= value - 0.1 * length * decrement)) {
      length /= 2;
      if (length < 1e-9) return at;
      next = stepped(at, direction, length);
      nextValue = barrier(cones, weight, next);
    }
    at = next;
    value = nextValue;
  }
  return at;
}

function stepped(at: Vector4, direction: Vector4, length: number): Vector4 {
  return [
    at[0] - length * direction[0],
    at[1] - length * direction[1],
    at[2] - length * direction[2],
    at[3] - length * direction[3],
  ];
}

/** Infinity outside the limits, so that a line search turns back. */
function barrier(cones: readonly Cone[], weight: number, [turn, x, y, slack]: Vector4): number {
  const turnRoom = LARGEST_TURN_MM ** 2 - turn ** 2;
  const shiftRoom = LARGEST_SHIFT_MM ** 2 - x ** 2 - y ** 2;
  if (turnRoom <= 0 || shiftRoom <= 0) return Number.POSITIVE_INFINITY;
  let sum = weight * slack - Math.log(turnRoom) - Math.log(shiftRoom);
  for (const cone of cones) {
    const room = cone.room + cone.loosens * slack;
    const vx = cone.startX + turn * cone.leverX + x;
    const vy = cone.startY + turn * cone.leverY + y;
    const left = room * room - vx * vx - vy * vy;
    if (room <= 0 || left <= 0) return Number.POSITIVE_INFINITY;
    sum -= Math.log(left);
  }
  return sum;
}

/** Gradient and Hessian of the same function; the Hessian by rows, 4 x 4. */
function derivatives(cones: readonly Cone[], weight: number, [turn, x, y, slack]: Vector4) {
  const turnRoom = LARGEST_TURN_MM ** 2 - turn ** 2;
  const shiftRoom = LARGEST_SHIFT_MM ** 2 - x ** 2 - y ** 2;
  let g0 = (2 * turn) / turnRoom;
  let g1 = (2 * x) / shiftRoom;
  let g2 = (2 * y) / shiftRoom;
  let g3 = weight;
  let h00 = 2 / turnRoom + g0 * g0;
  let h01 = 0;
  let h02 = 0;
  let h03 = 0;
  let h11 = 2 / shiftRoom + g1 * g1;
  let h12 = g1 * g2;
  let h13 = 0;
  let h22 = 2 / shiftRoom + g2 * g2;
  let h23 = 0;
  let h33 = 0;
  for (const { startX, startY, leverX, leverY, room: fixed, loosens } of cones) {
    const room = fixed + loosens * slack;
    const vx = startX + turn * leverX + x;
    const vy = startY + turn * leverY + y;
    const per = 2 / (room * room - vx * vx - vy * vy);
    const d0 = per * (vx * leverX + vy * leverY);
    const d1 = per * vx;
    const d2 = per * vy;
    const d3 = -per * loosens * room;
    g0 += d0;
    g1 += d1;
    g2 += d2;
    g3 += d3;
    h00 += d0 * d0 + per * (leverX * leverX + leverY * leverY);
    h01 += d0 * d1 + per * leverX;
    h02 += d0 * d2 + per * leverY;
    h03 += d0 * d3;
    h11 += d1 * d1 + per;
    h12 += d1 * d2;
    h13 += d1 * d3;
    h22 += d2 * d2 + per;
    h23 += d2 * d3;
    h33 += d3 * d3 - per * loosens;
  }
  const gradient: Vector4 = [g0, g1, g2, g3];
  const hessian: [Vector4, Vector4, Vector4, Vector4] = [
    [h00, h01, h02, h03],
    [h01, h11, h12, h13],
    [h02, h12, h22, h23],
    [h03, h13, h23, h33],
  ];
  return { gradient, hessian };
}

/** Solves a symmetric positive definite 4 x 4 system by Gauss elimination, in place of the matrix given. */
function solved(matrix: [Vector4, Vector4, Vector4, Vector4], right: Vector4): Vector4 {
  const [a, b, c, d] = matrix;
  const b0 = b[0] / a[0];
  const c0 = c[0] / a[0];
  const d0 = d[0] / a[0];
  const b11 = b[1] - b0 * a[1];
  const b12 = b[2] - b0 * a[2];
  const b13 = b[3] - b0 * a[3];
  const rb = right[1] - b0 * right[0];
  const c1 = (c[1] - c0 * a[1]) / b11;
  const d1 = (d[1] - d0 * a[1]) / b11;
  const c22 = c[2] - c0 * a[2] - c1 * b12;
  const c23 = c[3] - c0 * a[3] - c1 * b13;
  const rc = right[2] - c0 * right[0] - c1 * rb;
  const d2 = (d[2] - d0 * a[2] - d1 * b12) / c22;
  const d33 = d[3] - d0 * a[3] - d1 * b13 - d2 * c23;
  const z3 = (right[3] - d0 * right[0] - d1 * rb - d2 * rc) / d33;
  const z2 = (rc - c23 * z3) / c22;
  const z1 = (rb - b12 * z2 - b13 * z3) / b11;
  const z0 = (right[0] - a[1] * z1 - a[2] * z2 - a[3] * z3) / a[0];
  return [z0, z1, z2, z3];
}
