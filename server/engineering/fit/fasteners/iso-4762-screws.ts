import type { ScrewSize } from './iso-261-threads.js';

/** A hexagon socket head cap screw, mm. */
export interface CapScrew {
  readonly headDiameterMm: number;
  /** With a knurled head. */
  readonly knurledHeadDiameterMm: number;
  /** Height k of the head, at most. */
  readonly headHeightMm: number;
  /** Least diameter of the bearing face under the head. */
  readonly bearingDiameterMm: number;
  readonly lengthsMm: readonly number[];
  /** Counterbore that takes the head with room for a tool's tolerance. */
  readonly counterbore: { readonly diameterMm: number; readonly depthMm: number };
}

/** Length steps of the screws; each size has those of its range. */
const LENGTHS_MM = [
  5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160,
] as const;

function lengths(shortestMm: number, longestMm: number): readonly number[] {
  return LENGTHS_MM.filter((lengthMm) => lengthMm >= shortestMm && lengthMm <= longestMm);
}

/**
 * Cap screws.
 * Heads: ISO 4762:2004 Table 1, as listed at geartoolkit.com/standard/iso/iso-4762/ and engineeringhardware.com/?p=12.
 * Lengths: ISO 4762 commercial range, handbook value, from memory.
 * Counterbores: DIN 974-1 series 1, handbook value, from memory.
 */
export const CAP_SCREWS: { readonly [size in ScrewSize]: CapScrew } = {
  M3: screw(5.5, 5.68, 3, 5.07, lengths(5, 30), 6.5, 3.4),
  M4: screw(7, 7.22, 4, 6.53, lengths(6, 40), 8, 4.4),
  M5: screw(8.5, 8.72, 5, 8.03, lengths(8, 50), 10, 5.4),
  M6: screw(10, 10.22, 6, 9.38, lengths(10, 60), 11, 6.4),
  M8: screw(13, 13.27, 8, 12.33, lengths(12, 80), 15, 8.6),
  M10: screw(16, 16.27, 10, 15.33, lengths(16, 100), 18, 10.6),
  M12: screw(18, 18.27, 12, 17.23, lengths(20, 120), 20, 12.6),
  M14: screw(21, 21.33, 14, 20.17, lengths(25, 140), 24, 14.6),
  M16: screw(24, 24.33, 16, 23.17, lengths(25, 160), 26, 16.6),
};

export const CAP_SCREWS_SOURCE = 'ISO 4762:2004 Table 1';

function screw(
  headDiameterMm: number,
  knurledHeadDiameterMm: number,
  headHeightMm: number,
  bearingDiameterMm: number,
  lengthsMm: readonly number[],
  counterboreDiameterMm: number,
  counterboreDepthMm: number,
): CapScrew {
  return {
    headDiameterMm,
    knurledHeadDiameterMm,
    headHeightMm,
    bearingDiameterMm,
    lengthsMm,
    counterbore: { diameterMm: counterboreDiameterMm, depthMm: counterboreDepthMm },
  };
}
