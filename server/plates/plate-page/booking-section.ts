import { may } from '../../members/permissions.js';
import { NOT_BOOKABLE } from '../../words/en/plates.js';
import { isRetired } from '../retire-plate.js';
import { isLatest, type PlateOnView } from './plate-on-view.js';
import { drawingAddress } from './revisions-section.js';

/**
 * How the plate on view is booked, or why not: only the latest revision is, and none with a stop. Data of
 * `plate-booking.hbs`.
 */
export function bookingSection(seen: PlateOnView) {
  const { actor, plate, revision, polymer, report } = seen;
  const addresses = {
    drawingHref: drawingAddress(plate, revision),
    cuttingHref: `/plates/${plate.id}/revisions/${revision.revision}/cutting-list`,
    labelHref: `/plates/${plate.id}/label`,
    historyHref: `/plates/${plate.id}/history`,
    damageHref: `/plates/${plate.id}/damage`,
  };
  if (!isLatest(seen) || isRetired(plate) || !may(actor, 'plate-run', plate)) return addresses;
  if (report?.done.check.verdict === 'stop') return { ...addresses, notBookable: NOT_BOOKABLE };
  return { ...addresses, bookHref: `/bookings/new?plateId=${plate.id}&polymer=${polymer}` };
}
