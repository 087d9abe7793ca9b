import type { Polymer } from './polymer.js';

/** True when pellets from an ordinary open sack must be dried before they are moulded, or nobody knows. */
export function needsDrying({ drying }: Pick<Polymer, 'drying'>): boolean {
  return drying === null || drying.needed;
}
