import { NEXT_WORDS, NOT_CUT_NEXT, REFUSED_NEXT } from '../../words/en/clearance.js';
import type { Plate } from '../store.js';
import type { Standing } from './standing.js';

/** What comes next for a plate on a bolster, and whose turn it is. */
export function nextText(
  { plate, standing }: { readonly plate: Plate; readonly standing: Standing },
  refused: boolean,
): string {
  if (refused) return REFUSED_NEXT;
  if (standing.reached === 'none' && plate.condition === 'not-cut') return NOT_CUT_NEXT;
  return NEXT_WORDS[standing.reached];
}
