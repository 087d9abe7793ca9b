import { screwsText } from '../../words/en/screws.js';
import { momentText } from '../../words/en/times.js';
import type { Plate, Revision } from '../store.js';
import type { PlateOnView } from './plate-on-view.js';

/** Every revision with its drawing, what was said about it and what changed in it. Data of `plate-revisions.hbs`. */
export function revisionsSection({ plate, revision: current, revisions, rules }: PlateOnView) {
  return {
    compare: { href: `/plates/${plate.id}/compare`, text: 'Compare revisions, resins or bolsters' },
    revisions: revisions.map((one) => ({
      revision: one.revision,
      href: `/plates/${plate.id}?revision=${one.revision}`,
      current: one === current,
      kept: momentText(one.createdAt, rules.timeZone),
      facts: `${one.facts.alloy}, ${one.facts.thicknessMm} mm, ${screwsText(one.facts)}`,
      fileName: one.fileName,
      note: one.note,
      ...(one.revision > 1 && { compareHref: compareAddress(plate, one.revision - 1, one.revision) }),
      drawingHref: drawingAddress(plate, one),
    })),
  };
}

function compareAddress({ id }: Pick<Plate, 'id'>, from: number, to: number): string {
  return `/plates/${id}/compare?fromRevision=${from}&toRevision=${to}`;
}

/** Where a revision's drawing is fetched as it was handed in. */
export function drawingAddress({ id }: Pick<Plate, 'id'>, { revision }: Pick<Revision, 'revision'>): string {
  return `/plates/${id}/revisions/${revision}/drawing`;
}
