/**
 * ISO metric coarse thread: nominal diameter and pitch, mm.
 * Source: ISO 261 and ISO 262, coarse series, as listed at engineeringhardware.com/?p=12.
 */
export const COARSE_PITCH_MM = {
  M3: 0.5,
  M4: 0.7,
  M5: 0.8,
  M6: 1.0,
  M8: 1.25,
  M10: 1.5,
  M12: 1.75,
  M14: 2.0,
  M16: 2.0,
} as const;

export type ScrewSize = keyof typeof COARSE_PITCH_MM;

export const SCREW_SIZES = Object.keys(COARSE_PITCH_MM) as readonly ScrewSize[];

/** The size as a key of the tables, or null when they do not have it. */
export function screwSize(size: string): ScrewSize | null {
  return SCREW_SIZES.find((known) => known === size.trim().toUpperCase()) ?? null;
}

/** Nominal diameter of a thread written `M6`, mm; null for anything else, a fine thread `M6x0.75` included. */
export function threadDiameterMm(thread: string): number | null {
  const size = /^M(\d+(?:\.\d+)?)$/i.exec(thread.trim());
  return size === null ? null : Number(size[1]);
}

/** Pitch diameter d2 = d - 0.6495 P and thread root d3 = d - 1.2269 P of the coarse thread, mm (ISO 724, ISO 68-1). */
export function threadDiametersMm(size: ScrewSize): {
  readonly nominal: number;
  readonly pitch: number;
  readonly root: number;
} {
  const nominal = Number(size.slice(1));
  const pitchMm = COARSE_PITCH_MM[size];
  return { nominal, pitch: nominal - 0.6495 * pitchMm, root: nominal - 1.2269 * pitchMm };
}
