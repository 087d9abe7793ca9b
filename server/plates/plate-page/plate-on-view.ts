import type { Actor } from '../../context.js';
import type { RulesInForce } from '../../shop/rules.js';
import type { CheckingHouse } from '../checking-house.js';
import type { Plate, Revision } from '../store.js';
import type { SeenReport } from './report-seen.js';

/**
 * What every section of a plate's page is built from. A section is one builder in this folder, from this and what it
 * reads itself, and one partial `plate-<section>.hbs`; a builder that gives `undefined` leaves its section out.
 * Its form posts to an address of its own, and a refused one shows the page again with what was typed: `sendPlate`
 * takes that by section.
 */
export interface PlateOnView {
  readonly house: CheckingHouse;
  readonly actor: Actor;
  readonly plate: Plate;
  /** The revision on view. */
  readonly revision: Revision;
  /** All of them, latest first. */
  readonly revisions: readonly Revision[];
  readonly polymer: string;
  readonly rules: RulesInForce;
  /** The report of the revision on view with that resin on the mounted bolster; undefined where there is none. */
  readonly report: SeenReport | undefined;
}

/** True where the revision on view is the one that bookings are made with. */
export function isLatest({ plate, revision }: Pick<PlateOnView, 'plate' | 'revision'>): boolean {
  return revision.revision === plate.latestRevision;
}
