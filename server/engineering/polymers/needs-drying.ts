import type { Polymer } from './polymer.js';

/** True when pellets from an ordinary open sack must be dried before they are moulded. */
export function needsDrying({ drying }: Pick<Polymer, 'drying'>): boolean {
  return drying.needed;
}
