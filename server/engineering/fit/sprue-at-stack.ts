import type { BolsterFacts, PlateFacts } from '../press-facts.js';

/** The sprue as it reaches the plate, mm. */
export interface SprueAtStack {
  readonly lengthMm: number;
  readonly endDiameterMm: number;
}

/**
 * The sprue where it meets the plate. A facing plate on the fixed half makes it longer, and as the bore in a facing
 * plate is not on record the bolster's taper is taken to go on through it: end = d + (d - d_nozzle) / length x facing.
 */
export function sprueAtStack(
  { sprue }: Pick<BolsterFacts, 'sprue'>,
  { facingThicknessMm }: Pick<PlateFacts, 'facingThicknessMm'>,
): SprueAtStack {
  const { lengthMm, nozzleEndDiameterMm, partingFaceDiameterMm } = sprue;
  const perMm = lengthMm > 0 ? (partingFaceDiameterMm - nozzleEndDiameterMm) / lengthMm : 0;
  return {
    lengthMm: lengthMm + facingThicknessMm,
    endDiameterMm: partingFaceDiameterMm + Math.max(0, perMm) * facingThicknessMm,
  };
}
