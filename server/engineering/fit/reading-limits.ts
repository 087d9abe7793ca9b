import type { ScrewSize } from './fasteners/iso-261-threads.js';
import { CLEARANCE_HOLES } from './fasteners/iso-273-holes.js';

/** The kinds of lengths that are measured on a finished plate. */
export type MeasuredLength = 'thickness' | 'hole' | 'sink-diameter' | 'sink-depth' | 'feed' | 'feed-depth';

/**
 * How far a reading may be off what is drawn, mm: up to `agreesMm` it is what a mill, a drill and a caliper do; beyond
 * `contradictsMm` the plate is another than the one that was checked. Common practice, no source.
 */
export const READING_BANDS: {
  readonly [length in MeasuredLength]: { readonly agreesMm: number; readonly contradictsMm: number };
} = {
  thickness: { agreesMm: 0.1, contradictsMm: 0.5 },
  hole: { agreesMm: 0.2, contradictsMm: 0.5 },
  'sink-diameter': { agreesMm: 0.3, contradictsMm: 1 },
  'sink-depth': { agreesMm: 0.2, contradictsMm: 1 },
  feed: { agreesMm: 0.2, contradictsMm: 0.5 },
  'feed-depth': { agreesMm: 0.1, contradictsMm: 0.5 },
};

/** A gap between the faces through which melt flashes, mm: from the thinnest melts to the usual ones. */
export interface FlashGap {
  readonly minMm: number;
  readonly maxMm: number;
}

/** For any resin. Common practice, no source. */
export const USUAL_FLASH_GAP: FlashGap = { minMm: 0.03, maxMm: 0.05 };

export const PRACTICE = 'common practice, no source';

/** Standard tolerance IT14 by nominal size, mm. Source: ISO 286-1 Table 1, handbook value, from memory. */
const IT14_MM = [
  { upToMm: 3, toleranceMm: 0.25 },
  { upToMm: 6, toleranceMm: 0.3 },
  { upToMm: 10, toleranceMm: 0.36 },
  { upToMm: 18, toleranceMm: 0.43 },
  { upToMm: 30, toleranceMm: 0.52 },
] as const;

/** The smallest and the largest clearance hole that ISO 273 has for a screw: fine, and coarse with its H14, mm. */
export function clearanceHoleLimits(size: ScrewSize): { readonly minMm: number; readonly maxMm: number } {
  const { fineMm, coarseMm } = CLEARANCE_HOLES[size];
  const tolerance = IT14_MM.find(({ upToMm }) => coarseMm <= upToMm)?.toleranceMm ?? 0;
  return { minMm: fineMm, maxMm: coarseMm + tolerance };
}
