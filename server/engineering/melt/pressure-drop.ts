import type { FlowPoint } from '../polymers/polymer.js';

/** A melt by the power law tau = K g^n; n = 1 and K = viscosity for a Newtonian one. */
export type PowerLaw = Pick<FlowPoint, 'exponent' | 'consistencyPaSn'>;

/**
 * Pressure to push a melt along a round channel that tapers evenly, MPa; lengths mm, flow cm3/s. Isothermal, no slip.
 * Source: Imperial College London, ME4 Polymer Processing Technology, problem set 3, problem 3.1 (cone); Poiseuille
 * for one diameter.
 */
export function roundDropMpa(
  { exponent: n, consistencyPaSn: k }: PowerLaw,
  flowCm3PerS: number,
  lengthMm: number,
  fromDiameterMm: number,
  toDiameterMm = fromDiameterMm,
): number {
  const [r1, r2] = [fromDiameterMm / 2, toDiameterMm / 2];
  const rate = (((3 * n + 1) / n) * flowCm3PerS * 1000) / Math.PI;
  const difference = r2 - r1;
  const perMm =
    Math.abs(difference) < 1e-6 * r1
      ? 2 * rate ** n * r1 ** (-3 * n - 1)
      : (2 / (3 * n * difference)) * rate ** n * (r1 ** (-3 * n) - r2 ** (-3 * n));
  return (k * perMm * lengthMm) / 1e6;
}

/**
 * Pressure to push a melt along a rectangular channel, MPa: the slit's form, divided by what the side walls leave of
 * a Newtonian flow: narrow channels of a melt with n < 1 come out up to 17 % high. Lengths mm, flow cm3/s. Isothermal,
 * no slip.
 * Source: the slit of a power-law melt and the series for the rectangle: handbook value, from memory.
 */
export function slitDropMpa(
  { exponent: n, consistencyPaSn: k }: PowerLaw,
  flowCm3PerS: number,
  lengthMm: number,
  widthMm: number,
  depthMm: number,
): number {
  const [w, h] = widthMm >= depthMm ? [widthMm, depthMm] : [depthMm, widthMm];
  const rate = ((2 * (2 * n + 1)) / n) * ((flowCm3PerS * 1000) / (w * h * h));
  return (((2 * k * lengthMm) / h) * rate ** n) / sideWallFactor(w / h) / 1e6;
}

/**
 * What the side walls leave of the flow between two wide plates, by width over depth (at least 1):
 * F = 1 - (192/pi^5)(h/w) sum over odd k of tanh(k pi w/2h)/k^5.
 */
export function sideWallFactor(widthOverDepth: number): number {
  let sum = 0;
  for (let k = 1; k < 40; k += 2) sum += Math.tanh((k * Math.PI * widthOverDepth) / 2) / k ** 5;
  return 1 - (192 / Math.PI ** 5 / widthOverDepth) * sum;
}

/**
 * Apparent shear rate at the wall of a rectangular gate, 1/s: 6 Q / (w h^2), h the smaller side.
 * Source: Routsis Training, Calculating apparent shear rate.
 */
export function gateShearPerS(flowCm3PerS: number, widthMm: number, depthMm: number): number {
  const [w, h] = widthMm >= depthMm ? [widthMm, depthMm] : [depthMm, widthMm];
  return (6 * flowCm3PerS * 1000) / (w * h * h);
}
