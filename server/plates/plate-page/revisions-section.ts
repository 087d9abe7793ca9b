import { momentText } from '../../words/en/times.js';
import type { Plate, Revision } from '../store.js';
import type { PlateOnView } from './plate-on-view.js';

/** Every revision with its drawing. Data of `plate-revisions.hbs`. */
export function revisionsSection({ plate, revision: current, revisions, rules }: PlateOnView) {
  return {
    revisions: revisions.map((one) => ({
      revision: one.revision,
      href: `/plates/${plate.id}?revision=${one.revision}`,
      current: one === current,
      kept: momentText(one.createdAt, rules.timeZone),
      facts: `${one.facts.alloy}, ${one.facts.thicknessMm} mm, ${one.facts.screw.size} × ${one.facts.screw.lengthMm}`,
      fileName: one.fileName,
      drawingHref: drawingAddress(plate, one),
    })),
  };
}

/** Where a revision's drawing is fetched as it was handed in. */
export function drawingAddress({ id }: Pick<Plate, 'id'>, { revision }: Pick<Revision, 'revision'>): string {
  return `/plates/${id}/revisions/${revision}/drawing`;
}
