import type { ScrewSize } from './iso-261-threads.js';
import { PROOF_LOAD_N, type PropertyClass } from './iso-898-strength.js';
import { CAP_SCREWS } from './iso-4762-screws.js';

/**
 * Share of the proof load for joints that are taken apart again, and nut factor for dry screws as received.
 * Source: Shigley, Mechanical Engineering Design, as summarised at mechconcepts.tech/bolt-torque-calculation/.
 */
const REUSED_JOINT_SHARE = 0.75;
const DRY_NUT_FACTOR = 0.2;

/** Tightening force of a joint that is taken apart again, N. */
export function usualPreloadN(size: ScrewSize, grade: PropertyClass): number {
  return REUSED_JOINT_SHARE * PROOF_LOAD_N[size][grade];
}

/** T = K d F, N m. */
export function torqueNm(nominalDiameterMm: number, preloadN: number, nutFactor = DRY_NUT_FACTOR): number {
  return (nutFactor * nominalDiameterMm * preloadN) / 1000;
}

/** The ring between bearing face and hole that carries the head, mm2; 0 when the hole leaves none. */
export function bearingAreaMm2(size: ScrewSize, holeDiameterMm: number): number {
  return Math.max(0, (Math.PI / 4) * (CAP_SCREWS[size].bearingDiameterMm ** 2 - holeDiameterMm ** 2));
}

/** Pressure under a bare head, MPa: p = F / (pi/4 (dw2 - dh2)); infinite when the hole leaves no metal. */
export function headPressureMpa(size: ScrewSize, holeDiameterMm: number, preloadN: number): number {
  return preloadN / bearingAreaMm2(size, holeDiameterMm);
}

/** What a torque wrench may put on beyond what is asked of it: +-25 to 30 %. Handbook value, from memory. */
export const WRENCH_SCATTER = 1.3;

/**
 * Shear stress in the metal under a head, MPa: tau = F / (pi dw u), the head punching out a cylinder of its bearing
 * diameter dw through the metal u left under it.
 */
export function headShearMpa(size: ScrewSize, metalUnderMm: number, preloadN: number): number {
  return preloadN / (Math.PI * CAP_SCREWS[size].bearingDiameterMm * metalUnderMm);
}

/** The force at which the head shears through the metal under it, N: F = tau pi dw u. */
export function headPunchesThroughN(size: ScrewSize, metalUnderMm: number, shearStrengthMpa: number): number {
  return shearStrengthMpa * Math.PI * CAP_SCREWS[size].bearingDiameterMm * metalUnderMm;
}
