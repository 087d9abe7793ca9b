import type { PlateFacts } from '../../engineering/press-facts.js';
import { numberText } from './numbers.js';

/** Every kind of screw of a plate: "M6 × 20", and those of hole groups after it. */
export function screwsText({ screw, screwGroups }: Pick<PlateFacts, 'screw' | 'screwGroups'>): string {
  const kinds = [screw, ...screwGroups.map((group) => group.screw)].map(
    ({ size, lengthMm }) => `${size} × ${numberText(lengthMm, lengthMm % 1 === 0 ? 0 : 1)}`,
  );
  return [...new Set(kinds)].join(', ');
}
