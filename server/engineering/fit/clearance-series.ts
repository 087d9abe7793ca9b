import { screwSize } from './fasteners/iso-261-threads.js';
import { CLEARANCE_HOLES } from './fasteners/iso-273-holes.js';

/** A drill is no nearer to its size than this, mm. Common practice, no source. */
const DRILL_MM = 0.05;

/** The series of ISO 273 that a clearance hole belongs to; null for one of another size. */
export function clearanceSeries(size: string, diameterMm: number): 'fine' | 'medium' | 'coarse' | null {
  const known = screwSize(size);
  if (known === null) return null;
  const { fineMm, mediumMm, coarseMm } = CLEARANCE_HOLES[known];
  const is = (mm: number) => Math.abs(mm - diameterMm) <= DRILL_MM;
  if (is(mediumMm)) return 'medium';
  if (is(fineMm)) return 'fine';
  return is(coarseMm) ? 'coarse' : null;
}
