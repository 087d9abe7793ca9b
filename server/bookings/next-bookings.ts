import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { spanText } from '../words/en/times.js';
import { bookingsOf } from './store.js';

/** Coming bookings that the first page shows. */
const SHOWN_MAX = 3;

/** Read at most this many of a member's latest bookings to find the next ones. */
const LOOKED_AT_MAX = 50;

/** The member's next bookings, soonest first, as lines of the first page. */
export async function nextBookings(
  db: Queryable,
  { memberId }: Actor,
  { timeZone }: { readonly timeZone: string },
  now: Date,
) {
  const bookings = await bookingsOf(db, memberId, null, LOOKED_AT_MAX);
  return bookings
    .filter(({ status, endsAt }) => status !== 'cancelled' && endsAt > now)
    .reverse()
    .slice(0, SHOWN_MAX)
    .map(({ id, startsAt, endsAt, plateName, polymer }) => ({
      name: spanText(startsAt, endsAt, timeZone),
      more: `${plateName}, in ${polymer}`,
      href: `/bookings/${id}`,
      button: 'See the booking',
    }));
}
