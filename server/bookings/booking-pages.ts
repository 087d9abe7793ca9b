import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Actor } from '../context.js';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cursor, cutPage } from '../http/cursor.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import { id } from '../http/id.js';
import { Refused, refused } from '../http/refused.js';
import { type SheetWords, sendSheet } from '../http/sheet.js';
import { justDone, leadOn } from '../http/told-once.js';
import { may, mayAtAll, refusalUnless } from '../members/permissions.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { transactWithReport } from '../plates/transact-with-report.js';
import { Refusal } from '../reasons.js';
import type { RulesInForce } from '../shop/rules.js';
import { rulesAt } from '../shop/store.js';
import type { ErrorSummaryView } from '../views.js';
import { BOOKING_FORM_ERRORS, BOOKING_LABELS } from '../words/en/bookings.js';
import { cancelForm, moveForm, refusalOnForm, spanOfForm } from './booking-form.js';
import {
  attentionNotices,
  bookingFacts,
  bookingLine,
  canCancel,
  canMove,
  conditionLines,
  formOf,
  seenOf,
  signOffLines,
} from './booking-sheet.js';
import { cancel } from './cancel.js';
import { isSameSpan, move } from './move.js';
import { type Booking, bookingById, bookingsBetween, bookingsOf } from './store.js';
import { seesWhole } from './views.js';

const LISTED_MAX = 100;

const FAR_AHEAD = new Date('9999-12-31T00:00:00Z');

/** The actor's bookings: coming, past and cancelled. */
export async function showMine(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const { memberId } = actor;
  const now = house.now();
  const rules = await rulesAt(house.database, now);
  const after = cursor.optional().safeParse((request.query as { after?: unknown }).after);
  const rows = await bookingsOf(house.database, memberId, after.data ?? null, LISTED_MAX + 1);
  const page = cutPage(rows, LISTED_MAX, (booking) => ({ at: booking.startsAt, id: booking.id }));
  const standing = page.items.filter(({ status }) => status !== 'cancelled');
  const lines = (bookings: readonly Booking[]) => bookings.map((booking) => bookingLine(booking, rules, now));
  return sendSheet(
    request,
    reply,
    house,
    'bookings/mine',
    {
      title: 'My bookings',
      kicker: 'Press time of your own',
      current: 'bookings',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: 'My bookings' },
        { label: 'Shop rules', value: `version ${rules.version}` },
      ],
    },
    {
      coming: lines(standing.filter(({ endsAt }) => endsAt > now).reverse()),
      past: lines(standing.filter(({ endsAt }) => endsAt <= now)),
      cancelled: lines(page.items.filter(({ status }) => status === 'cancelled')),
      seesAll: may(actor, 'booking-see-whole'),
      ...(page.next !== null && { older: `/bookings?after=${page.next}` }),
    },
  );
}

/** Everybody's bookings that are to come, for who may see what they are for. */
export async function showAll(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const forbidden = refusalUnless(actor, 'booking-see-whole', {});
  if (forbidden !== undefined) throw new Refused(forbidden);
  const now = house.now();
  const rules = await rulesAt(house.database, now);
  const after = cursor.optional().safeParse((request.query as { after?: unknown }).after);
  const span = { from: now, to: FAR_AHEAD, pressId: null };
  const rows = await bookingsBetween(house.database, span, after.data ?? null, LISTED_MAX + 1);
  const page = cutPage(rows, LISTED_MAX, (booking) => ({ at: booking.startsAt, id: booking.id }));
  return sendSheet(
    request,
    reply,
    house,
    'bookings/all',
    {
      title: 'Everybody’s bookings',
      kicker: 'Press time to come',
      current: 'bookings',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: 'Everybody’s bookings' },
        { label: 'Shop rules', value: `version ${rules.version}` },
      ],
    },
    {
      coming: page.items.map((booking) => ({
        ...bookingLine(booking, rules, now),
        who: booking.displayName,
      })),
      ...(page.next !== null && { later: `/bookings/all?after=${page.next}` }),
    },
  );
}

/** One booking, as far as the actor may see it. */
export async function showBooking(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  return sendBooking(request, reply, house, {});
}

/** Moves a booking, or shows it again with every reason why not. */
export async function postMove(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const bookingId = bookingIdOf(request);
  const { given, value, errors } = readForm(moveForm, request.body);
  if (errors !== undefined) return sendBooking(request, reply.code(422), house, wrong(given, errors));
  const { timeZone } = await rulesAt(house.database, house.now());
  const span = spanOfForm(value, timeZone);
  if ('errors' in span) return sendBooking(request, reply.code(422), house, wrong(given, span.errors));
  const seen = { startsAt: value.seenStartsAt, endsAt: value.seenEndsAt };
  if (isSameSpan(span, seen)) {
    const unmoved = { from: BOOKING_FORM_ERRORS.unmoved };
    return sendBooking(request, reply.code(422), house, wrong(given, unmoved));
  }
  const outcome = await transactWithReport(house, actorOf(request), (ctx) =>
    move(ctx, { bookingId, ...span, seen }),
  );
  if (!(outcome instanceof Refusal)) {
    return leadOn(reply, house, actorOf(request), { what: 'moved', path: `/bookings/${bookingId}` });
  }
  const errorSummary = summaryOfRefusal(refusalOnForm(outcome));
  return sendBooking(request, reply.code(outcome.status), house, { given, errorSummary });
}

/** Asks once more, with room for a reason. */
export async function showCancel(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  return sendCancel(request, reply, house, {});
}

/** Cancels, or says why not. */
export async function postCancel(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const bookingId = bookingIdOf(request);
  const actor = actorOf(request);
  const { given, value } = readForm(cancelForm, request.body);
  if (value === undefined) {
    return sendCancel(request, reply.code(422), house, wrong(given, { reason: BOOKING_FORM_ERRORS.reason }));
  }
  const outcome = await transact(house.database, (tx) =>
    cancel({ actor, now: house.now(), tx }, { bookingId, reason: value.reason }),
  );
  if (!(outcome instanceof Refusal))
    return leadOn(reply, house, actor, { what: 'cancelled', path: `/bookings/${bookingId}` });
  const errorSummary = summaryOfRefusal(outcome);
  return sendCancel(request, reply.code(outcome.status), house, { given, errorSummary });
}

interface Shown {
  readonly given?: { readonly [field: string]: string };
  readonly errors?: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

function wrong(given: NonNullable<Shown['given']>, errors: NonNullable<Shown['errors']>): Shown {
  return { given, errors, errorSummary: summaryOfErrors(errors, BOOKING_LABELS) };
}

/** The id in the address. @throws Refused where it cannot be one of ours */
function bookingIdOf(request: FastifyRequest): string {
  const parsed = id.safeParse((request.params as { readonly id?: unknown }).id);
  if (!parsed.success) throw refused('not-found', { figures: { what: 'booking' } });
  return parsed.data;
}

interface Seen {
  readonly actor: Actor;
  readonly booking: Booking;
  readonly rules: RulesInForce;
  readonly now: Date;
}

async function bookingSeen(request: FastifyRequest, { database, now }: CheckingHouse): Promise<Seen> {
  const [booking, rules] = await Promise.all([
    bookingById(database, bookingIdOf(request)),
    rulesAt(database, now()),
  ]);
  if (booking === undefined) throw refused('not-found', { figures: { what: 'booking' } });
  return { actor: actorOf(request), booking, rules, now: now() };
}

const JUST_DONE = {
  booked: { word: 'booked', text: 'The press is yours for that time.' },
  moved: { word: 'moved', text: 'The press is yours for the new time; the old one is free again.' },
  cancelled: { word: 'cancelled', text: 'The press is free again for that time.' },
} as const;

async function sendBooking(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse, shown: Shown) {
  const seen = await bookingSeen(request, house);
  const { actor, booking, rules, now } = seen;
  const done = justDone(request, reply, house);
  const isCancelled = booking.status === 'cancelled';
  const notice = Object.entries(JUST_DONE).find(
    ([what]) => what === done && (what === 'cancelled') === isCancelled,
  )?.[1];
  const whole = seesWhole(actor, booking);
  return sendSheet(
    request,
    reply,
    house,
    'bookings/booking',
    sheetWords(seen, shown, whole ? booking.plateName : `Press time of ${booking.displayName}`, notice),
    {
      booking: { id: booking.id },
      facts: bookingFacts(booking, rules, whole, now),
      attention: whole ? attentionNotices(booking, actor, now) : [],
      conditions: whole ? conditionLines(booking, rules) : [],
      signOffs: whole ? signOffLines(booking) : [],
      seesDesk: mayAtAll(actor, 'desk-see'),
      plateHref: may(actor, 'plate-see', { ownerId: booking.memberId })
        ? `/plates/${booking.plateId}`
        : undefined,
      move: canMove(actor, booking, now)
        ? { ...formOf(booking, rules), ...shown.given, ...seenOf(booking) }
        : undefined,
      errors: shown.errors ?? {},
      runs: may(actor, 'booking-run', { ownerId: booking.memberId }) && booking.status !== 'cancelled',
      isTrial: whole && booking.bookingKind === 'trial',
      canCancel: canCancel(actor, booking, now),
    },
  );
}

async function sendCancel(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse, shown: Shown) {
  const seen = await bookingSeen(request, house);
  const { actor, booking, rules, now } = seen;
  const own = booking.memberId === actor.memberId;
  const forbidden = refusalUnless(actor, 'booking-cancel', { ownerId: booking.memberId });
  if (forbidden !== undefined) throw new Refused(forbidden);
  return sendSheet(
    request,
    reply,
    house,
    'bookings/cancel',
    sheetWords(seen, shown, 'Cancel this booking?'),
    {
      booking: { id: booking.id },
      facts: bookingFacts(booking, rules, seesWhole(actor, booking), now),
      own,
      reason: shown.given?.reason ?? '',
      errors: shown.errors ?? {},
    },
  );
}

function sheetWords(
  { booking, rules }: Seen,
  { errorSummary }: Shown,
  title: string,
  notice?: (typeof JUST_DONE)[keyof typeof JUST_DONE],
): SheetWords {
  return {
    title,
    kicker: 'Booking',
    current: 'bookings',
    place: rules.makerspaceName,
    titleBlock: [
      { label: 'Sheet', value: `Booking ${booking.id.slice(0, 8)}` },
      { label: 'Shop rules', value: `version ${rules.version}` },
    ],
    ...(notice !== undefined && { notices: [notice] }),
    ...(errorSummary && { errorSummary }),
  };
}
