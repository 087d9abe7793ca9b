import type { ReadingCheck } from '../../engineering/fit/judge-readings.js';

/** The corners in the order in which they are measured, seen on the plate's face. */
export const CORNER_NAMES = ['top left', 'top right', 'bottom right', 'bottom left'] as const;

/** What is measured, or follows from it. */
const READING_NAMES: { readonly [check in ReadingCheck]: string } = {
  thickness: 'Thickness',
  hole: 'Diameter',
  'sink-diameter': 'Diameter of the sink',
  'sink-depth': 'Depth of the sink',
  feed: 'Diameter of the feed pocket',
  'feed-depth': 'Depth of the feed pocket',
  parallelism: 'Thickest less thinnest corner',
  'minimum-daylight': 'Stack at the thinnest corner',
  'largest-stack': 'Stack at the thickest corner',
  'screw-end': 'Screw in its tapped hole',
};

/**
 * "Thickness at the top left corner", "Hole 3: depth of the sink".
 *
 * @param corner 0 to 3, of a thickness; @param hole from 1, of a hole
 */
export function nameOfReading(check: string, hole?: string | number, corner?: string | number): string {
  const name = (READING_NAMES as { readonly [check: string]: string })[check] ?? 'A reading';
  const at = corner === undefined ? undefined : CORNER_NAMES[Number(corner)];
  if (at !== undefined) return `${name} at the ${at} corner`;
  return hole === undefined || hole === ''
    ? name
    : `Hole ${hole}: ${name.charAt(0).toLowerCase()}${name.slice(1)}`;
}
