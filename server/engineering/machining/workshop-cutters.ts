/** An end mill as a workshop has it, mm. */
export interface WorkshopCutter {
  readonly diameterMm: number;
  /** Cutting length of the usual one. */
  readonly fluteMm: number;
  /** How deep the long one reaches, its neck relieved where it is thin. */
  readonly reachMm: number;
}

/**
 * The end mills that a small workshop can be expected to have or to get by tomorrow, thinnest first. From 2 mm up the
 * two lengths are the cutting lengths of the standard and the long series of ISO 1641-1: handbook value, from memory.
 * Below, and the choice itself: common practice, no source.
 */
export const WORKSHOP_CUTTERS: readonly WorkshopCutter[] = [
  { diameterMm: 0.5, fluteMm: 1, reachMm: 2.5 },
  { diameterMm: 0.8, fluteMm: 1.6, reachMm: 4 },
  { diameterMm: 1, fluteMm: 3, reachMm: 5 },
  { diameterMm: 1.5, fluteMm: 4, reachMm: 7.5 },
  { diameterMm: 2, fluteMm: 7, reachMm: 10 },
  { diameterMm: 3, fluteMm: 8, reachMm: 12 },
  { diameterMm: 4, fluteMm: 11, reachMm: 19 },
  { diameterMm: 5, fluteMm: 13, reachMm: 24 },
  { diameterMm: 6, fluteMm: 13, reachMm: 24 },
  { diameterMm: 8, fluteMm: 19, reachMm: 38 },
  { diameterMm: 10, fluteMm: 22, reachMm: 45 },
  { diameterMm: 12, fluteMm: 26, reachMm: 53 },
  { diameterMm: 16, fluteMm: 32, reachMm: 63 },
];

/** A round cutter goes where it has just room: a channel drawn as wide as its cutter is cut in one pass, mm. */
const ENTERS_MM = 0.02;

/** The thickest of the workshop's cutters that is no thicker than `mostMm`; null when all are. */
export function thickestUpTo(mostMm: number): WorkshopCutter | null {
  return WORKSHOP_CUTTERS.findLast(({ diameterMm }) => diameterMm <= mostMm + ENTERS_MM) ?? null;
}

/** The thinnest of the workshop's cutters that is at least `leastMm` thick; the thickest when none is. */
export function thinnestFrom(leastMm: number): WorkshopCutter {
  const found = WORKSHOP_CUTTERS.find(({ diameterMm }) => diameterMm >= leastMm - 1e-9);
  return found ?? (WORKSHOP_CUTTERS.at(-1) as WorkshopCutter);
}

/** Whether a cutter has room in a place of that width, mm. */
export function enters(diameterMm: number, widthMm: number): boolean {
  return diameterMm <= widthMm + ENTERS_MM;
}
