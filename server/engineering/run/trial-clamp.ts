export interface ClampGround {
  /** Forces that keep the plate closed without pressing its land too hard; null where the check found none. */
  readonly clampWindowKn: { readonly min: number; readonly max: number } | null;
  /** At the top of the polymer's pressure band, the safety factor in it; null where it is not known. */
  readonly clampNeededKn: number | null;
  readonly clampSettableKn: { readonly min: number; readonly max: number };
}

/** How often the force is stepped up at most. Common practice, no source. */
const STEPS_UP = 3;

/**
 * The force to begin with, in whole kN: the lower end of the window, so that the land is not pressed harder than it
 * has to be. Without a window, what the opening force needs, as far as the press can set it; null where nothing is known.
 */
export function startingForce({ clampWindowKn, clampNeededKn, clampSettableKn }: ClampGround): number | null {
  const wanted = clampWindowKn?.min ?? clampNeededKn;
  if (wanted === null) return null;
  const highest = Math.min(clampWindowKn?.max ?? clampSettableKn.max, clampSettableKn.max);
  const lowest = Math.max(wanted, clampSettableKn.min);
  return Math.ceil(lowest) <= highest ? Math.ceil(lowest) : Math.min(lowest, highest);
}

/** Forces to try one after the other while there is flash: in even steps up to the window's upper end, never past it. */
export function strongerForces(ground: ClampGround): readonly number[] {
  const start = startingForce(ground);
  const { clampWindowKn, clampSettableKn } = ground;
  if (start === null || clampWindowKn === null) return [];
  const highest = Math.floor(Math.min(clampWindowKn.max, clampSettableKn.max));
  const forces = Array.from({ length: STEPS_UP }, (_, i) =>
    Math.round(start + ((highest - start) * (i + 1)) / STEPS_UP),
  );
  return [...new Set(forces)].filter((force) => force > start && force <= highest);
}
