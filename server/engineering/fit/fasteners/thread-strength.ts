import { COARSE_PITCH_MM, type ScrewSize } from './iso-261-threads.js';
import { type PropertyClass, SCREW_STRENGTH, STRESS_AREA_MM2 } from './iso-898-strength.js';

/**
 * Smallest major diameter of a 6g screw and largest pitch diameter of a 6H hole, mm.
 * Source: ISO 965-1, handbook value, from memory.
 */
const LIMITS_OF_SIZE: { readonly [size in ScrewSize]?: readonly [screwMm: number, holeMm: number] } = {
  M3: [2.874, 2.775],
  M4: [3.838, 3.663],
  M5: [4.826, 4.605],
  M6: [5.794, 5.5],
  M8: [7.76, 7.348],
  M10: [9.732, 9.206],
  M12: [11.701, 11.063],
  M16: [15.682, 14.913],
};

/**
 * Shear area of the tapped thread per mm of engagement, mm2/mm: (pi/P) d_min (P/2 + 0.57735 (d_min - D2_max)).
 * Source: ASME B1.1 and FED-STD-H28 form, from memory. Null for a size whose limits are not in the table.
 */
export function tappedShearAreaMm2PerMm(size: ScrewSize): number | null {
  const limits = LIMITS_OF_SIZE[size];
  if (limits === undefined) return null;
  const [screwMm, holeMm] = limits;
  const pitchMm = COARSE_PITCH_MM[size];
  return (Math.PI / pitchMm) * screwMm * (pitchMm / 2 + 0.57735 * (screwMm - holeMm));
}

/** Engagement from which the tapped thread outlasts the screw, mm: As Rm / (tau A'). Null where it is not known. */
export function outlastingEngagementMm(
  size: ScrewSize,
  grade: PropertyClass,
  shearStrengthMpa: number,
): number | null {
  const areaMm2PerMm = tappedShearAreaMm2PerMm(size);
  if (areaMm2PerMm === null) return null;
  return (STRESS_AREA_MM2[size] * SCREW_STRENGTH[grade].tensileMpa) / (shearStrengthMpa * areaMm2PerMm);
}
