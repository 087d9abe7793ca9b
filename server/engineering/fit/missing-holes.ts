import type { PlateFacts } from '../press-facts.js';

/** Hole numbers that a screw group names and a drawing does not have: a screw with nothing to go through. */
export interface MissingHoles {
  /** Index into the plate's screw groups. */
  readonly group: number;
  readonly holes: readonly number[];
}

/** Every group that names a hole beyond the last of a drawing with so many bolt holes. */
export function missingHoles(
  { screwGroups }: Pick<PlateFacts, 'screwGroups'>,
  drawn: number,
): readonly MissingHoles[] {
  return screwGroups.flatMap(({ holes }, group) => {
    const missing = holes.filter((hole) => hole > drawn);
    return missing.length === 0 ? [] : [{ group, holes: missing }];
  });
}
