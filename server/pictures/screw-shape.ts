import {
  COARSE_PITCH_MM,
  type ScrewSize,
  screwSize,
  threadDiameterMm,
} from '../engineering/fit/fasteners/iso-261-threads.js';
import { CAP_SCREWS } from '../engineering/fit/fasteners/iso-4762-screws.js';
import type { PlateFacts } from '../engineering/press-facts.js';

/** A socket head cap screw as it is drawn; all lengths in mm. */
export interface ScrewShape {
  readonly threadDiameterMm: number;
  readonly headDiameterMm: number;
  readonly headHeightMm: number;
  readonly hexMm: number;
  readonly lengthMm: number;
  readonly headSinkDepthMm: number;
  /** Null where no sink is given beside the drawing. */
  readonly headSinkDiameterMm: number | null;
}

/** Width across the flats of the socket, mm: ISO 4762, handbook value, from memory. */
const HEX_MM: { readonly [size in ScrewSize]: number } = {
  M3: 2.5,
  M4: 3,
  M5: 4,
  M6: 5,
  M8: 6,
  M10: 8,
  M12: 10,
  M14: 12,
  M16: 14,
};

/** The plate's screw as a picture needs it; null for a size the tables do not have. */
export function screwShape(screw: PlateFacts['screw']): ScrewShape | null {
  const size = screwSize(screw.size);
  if (size === null) return null;
  const { headDiameterMm, headHeightMm } = CAP_SCREWS[size];
  return {
    threadDiameterMm: threadDiameterMm(size) ?? 0,
    headDiameterMm,
    headHeightMm,
    hexMm: HEX_MM[size],
    lengthMm: screw.lengthMm,
    headSinkDepthMm: screw.headSinkDepthMm ?? 0,
    headSinkDiameterMm: screw.headSinkDepthMm === null ? null : screw.headSinkDiameterMm,
  };
}

/** Diameters a tapped hole is drawn with, mm: thread, and core D1 = D - 1.0825 P (ISO 724). */
export function tappedHoleDiameters(thread: string): { readonly threadMm: number; readonly coreMm: number } {
  const threadMm = threadDiameterMm(thread) ?? Number.parseFloat(thread.slice(1));
  const size = screwSize(thread);
  // A thread outside the coarse table is drawn with a core in the usual proportion.
  return { threadMm, coreMm: size === null ? threadMm * 0.85 : threadMm - 1.0825 * COARSE_PITCH_MM[size] };
}
