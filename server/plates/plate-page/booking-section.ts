import { may } from '../../members/permissions.js';
import { NOT_BOOKABLE } from '../../words/en/plates.js';
import { isLatest, type PlateOnView } from './plate-on-view.js';
import { drawingAddress } from './revisions-section.js';

/**
 * How the plate on view is booked, or why not: only the latest revision is, and none with a stop. Data of
 * `plate-booking.hbs`.
 */
export function bookingSection(seen: PlateOnView) {
  const { actor, plate, revision, polymer, report } = seen;
  const drawingHref = drawingAddress(plate, revision);
  if (!isLatest(seen) || !may(actor, 'plate-run', plate)) return { drawingHref };
  if (report?.done.check.verdict === 'stop') return { drawingHref, notBookable: NOT_BOOKABLE };
  return { drawingHref, bookHref: `/bookings/new?plateId=${plate.id}&polymer=${polymer}` };
}
