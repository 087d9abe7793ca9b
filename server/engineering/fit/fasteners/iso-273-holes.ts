import type { ScrewSize } from './iso-261-threads.js';

/** Clearance hole for a screw, mm: the smallest hole each series permits. */
export interface ClearanceHoles {
  readonly fineMm: number;
  readonly mediumMm: number;
  readonly coarseMm: number;
}

/**
 * Clearance holes. Source: ISO 273:1979 (fine H12, medium H13, coarse H14), as listed at
 * engineeringhardware.com/?p=50; the nominal is the smallest permitted hole.
 */
export const CLEARANCE_HOLES: { readonly [size in ScrewSize]: ClearanceHoles } = {
  M3: { fineMm: 3.2, mediumMm: 3.4, coarseMm: 3.6 },
  M4: { fineMm: 4.3, mediumMm: 4.5, coarseMm: 4.8 },
  M5: { fineMm: 5.3, mediumMm: 5.5, coarseMm: 5.8 },
  M6: { fineMm: 6.4, mediumMm: 6.6, coarseMm: 7.0 },
  M8: { fineMm: 8.4, mediumMm: 9.0, coarseMm: 10.0 },
  M10: { fineMm: 10.5, mediumMm: 11.0, coarseMm: 12.0 },
  M12: { fineMm: 13.0, mediumMm: 13.5, coarseMm: 14.5 },
  M14: { fineMm: 15.0, mediumMm: 15.5, coarseMm: 16.5 },
  M16: { fineMm: 17.0, mediumMm: 17.5, coarseMm: 18.5 },
};
