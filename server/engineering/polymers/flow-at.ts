import type { FlowPoint, Polymer } from './polymer.js';

/** The shear rate at which viscosities are compared and carried to other temperatures, 1/s. */
const COMPARED_AT_PER_S = 1000;

/**
 * The power law tau = K g^n of a polymer at a melt temperature; null where no generic set can be trusted. Inside the
 * measured temperatures n and log K go in straight lines; outside, n stays that of the nearest point and the
 * viscosity at 1000 1/s follows its own straight line of log viscosity over temperature. A single point is taken as
 * it is at every temperature. Good to a factor of two (handbook sets differ by as much).
 */
export function flowAt({ flow }: Pick<Polymer, 'flow'>, meltC: number): FlowPoint | null {
  if (flow === null) return null;
  const { points } = flow;
  const first = points[0];
  const last = points.at(-1) ?? first;
  if (meltC <= first.meltC) return carried(first, first, last, meltC);
  if (meltC >= last.meltC) return carried(last, first, last, meltC);
  const above = points.findIndex((point) => point.meltC >= meltC);
  const [from, to] = [points[above - 1] ?? first, points[above] ?? last];
  const share = (meltC - from.meltC) / (to.meltC - from.meltC);
  return {
    meltC,
    exponent: from.exponent + share * (to.exponent - from.exponent),
    consistencyPaSn: from.consistencyPaSn * (to.consistencyPaSn / from.consistencyPaSn) ** share,
  };
}

/** Viscosity of a power-law melt, Pa s: K g^(n - 1). */
export function viscosityPaS({ exponent, consistencyPaSn }: FlowPoint, shearRatePerS: number): number {
  return consistencyPaSn * shearRatePerS ** (exponent - 1);
}

function carried(nearest: FlowPoint, first: FlowPoint, last: FlowPoint, meltC: number): FlowPoint {
  if (first.meltC === last.meltC) return { ...nearest, meltC };
  const [cold, hot] = [first, last].map((point) => viscosityPaS(point, COMPARED_AT_PER_S)) as [
    number,
    number,
  ];
  const perK = Math.log(hot / cold) / (last.meltC - first.meltC);
  const factor = Math.exp(perK * (meltC - nearest.meltC));
  return { ...nearest, meltC, consistencyPaSn: nearest.consistencyPaSn * factor };
}
