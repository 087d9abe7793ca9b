import { bookingsOf } from '../bookings/store.js';
import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { OPEN_NOW_WORDS as WORDS } from '../words/en/runs.js';
import { clockText } from '../words/en/times.js';
import { isOpeningTime } from './opening-time.js';
import { runsOfBooking } from './store.js';

/** Latest bookings that are looked at for the one whose time it is. */
const LOOKED_AT_MAX = 50;

/** The member's booking whose time it is, as a line of the first page: to be opened, or gone on with. */
export async function openNow(
  db: Queryable,
  { memberId }: Actor,
  { timeZone }: { readonly timeZone: string },
  now: Date,
) {
  const bookings = await bookingsOf(db, memberId, null, LOOKED_AT_MAX);
  const booking = bookings.find((one) => one.status === 'booked' && isOpeningTime(one, now));
  if (booking === undefined) return [];
  const open = (await runsOfBooking(db, booking.id)).find(({ closedAt }) => closedAt === null);
  const until = clockText(booking.endsAt, timeZone);
  return open === undefined
    ? [
        {
          name: WORDS.due(booking.plateName),
          more: WORDS.until(until),
          href: `/bookings/${booking.id}/run`,
          button: WORDS.open,
        },
      ]
    : [
        {
          name: WORDS.running(booking.plateName),
          more: WORDS.until(until),
          href: `/runs/${open.id}`,
          button: WORDS.goOn,
        },
      ];
}
