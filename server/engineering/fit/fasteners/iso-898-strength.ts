import type { ScrewSize } from './iso-261-threads.js';

export const PROPERTY_CLASSES = ['8.8', '10.9', '12.9'] as const;

export type PropertyClass = (typeof PROPERTY_CLASSES)[number];

/**
 * Nominal stress area of the coarse thread, mm2. Source: ISO 898-1, as listed at usefastener.com (knowledge page
 * 404) and in optimas.com, ISO metric thread proof loads.
 */
export const STRESS_AREA_MM2: { readonly [size in ScrewSize]: number } = {
  M3: 5.03,
  M4: 8.78,
  M5: 14.2,
  M6: 20.1,
  M8: 36.6,
  M10: 58.0,
  M12: 84.3,
  M14: 115,
  M16: 157,
};

/**
 * Tensile strength and proof stress, MPa. Source: ISO 898-1 Table 3, handbook value, from memory (8.8 for
 * d <= 16 mm); the proof stress is confirmed by the proof loads below.
 */
export const SCREW_STRENGTH: {
  readonly [grade in PropertyClass]: { readonly tensileMpa: number; readonly proofMpa: number };
} = {
  '8.8': { tensileMpa: 800, proofMpa: 580 },
  '10.9': { tensileMpa: 1040, proofMpa: 830 },
  '12.9': { tensileMpa: 1220, proofMpa: 970 },
};

/** Proof loads, N. Source: ISO 898-1 coarse thread, as listed in optimas.com, ISO metric thread proof loads. */
export const PROOF_LOAD_N: { readonly [size in ScrewSize]: { readonly [grade in PropertyClass]: number } } = {
  M3: { '8.8': 2920, '10.9': 4180, '12.9': 4880 },
  M4: { '8.8': 5100, '10.9': 7290, '12.9': 8520 },
  M5: { '8.8': 8230, '10.9': 11800, '12.9': 13800 },
  M6: { '8.8': 11600, '10.9': 16700, '12.9': 19500 },
  M8: { '8.8': 21200, '10.9': 30400, '12.9': 35500 },
  M10: { '8.8': 33700, '10.9': 48100, '12.9': 56300 },
  M12: { '8.8': 48900, '10.9': 70000, '12.9': 81800 },
  M14: { '8.8': 66700, '10.9': 95500, '12.9': 112000 },
  M16: { '8.8': 91000, '10.9': 130000, '12.9': 152000 },
};
