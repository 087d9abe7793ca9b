import { missingHoles } from '../engineering/fit/missing-holes.js';
import type { PlateFacts } from '../engineering/press-facts.js';
import { type Reason, Refusal } from '../reasons.js';

/**
 * The refusal of screw groups that name holes which the drawing does not have, at the facts' own fields; or nothing.
 *
 * @param drawn how many bolt holes the drawing has
 */
export function refusalOfHoles(facts: PlateFacts, drawn: number): Refusal | undefined {
  const [first, ...others] = missingHoles(facts, drawn).map(
    ({ group, holes }): Reason => ({
      code: 'screw-hole-not-drawn',
      field: `screwGroups.${group}.holes`,
      figures: { holes: holes.join(', '), drawn },
    }),
  );
  return first === undefined ? undefined : new Refusal([first, ...others]);
}
