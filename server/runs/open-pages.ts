import type { FastifyReply, FastifyRequest } from 'fastify';
import { bookingFacts } from '../bookings/booking-sheet.js';
import { type Booking, bookingById } from '../bookings/store.js';
import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { actorOf } from '../http/acting.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import { id } from '../http/id.js';
import { Refused, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { leadOn } from '../http/told-once.js';
import { standingStewards } from '../inductions/sign-off-store.js';
import { refusalUnless } from '../members/permissions.js';
import { membersAfter } from '../members/store.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { type Reason, Refusal } from '../reasons.js';
import { rulesAt } from '../shop/store.js';
import type { ErrorSummaryView } from '../views.js';
import { CHOOSE, OPENING_WORDS, PRE_USE_WORDS, RUN_LABELS } from '../words/en/runs.js';
import { clockText } from '../words/en/times.js';
import { openForm, tickOf } from './open-form.js';
import { openOnce } from './open-once.js';
import { isOpeningTime, openingSpan } from './opening-time.js';
import { PRE_USE_LINES } from './pre-use.js';
import { runRow } from './run-sheet.js';
import { runsOfBooking } from './store.js';

/** More members than any makerspace that shares one press; the list to choose from ends there. */
const MEMBERS_MAX = 500;

/** A booking's runs, and the form that opens one while it is time. */
export async function showOpen(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  return sendOpen(request, reply, house, { given: {} });
}

/** Opens a run and leads to it, or shows the form again with every reason why not. */
export async function postOpen(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const bookingId = bookingIdOf(request);
  const { given, value, errors } = readForm(openForm, request.body);
  if (errors !== undefined) {
    const errorSummary = summaryOfErrors(errors, RUN_LABELS);
    return sendOpen(request, reply.code(422), house, { given, errorSummary });
  }
  const run = await openOnce(house, actor, { bookingId, ...value }, undefined);
  if (!(run instanceof Refusal))
    return leadOn(reply, house, actor, { what: 'opened', path: `/runs/${run.id}` });
  const errorSummary = summaryOfRefusal(onForm(run));
  return sendOpen(request, reply.code(run.status), house, { given, errorSummary });
}

function bookingIdOf(request: FastifyRequest): string {
  const parsed = id.safeParse((request.params as { readonly id?: unknown }).id);
  if (!parsed.success) throw refused('not-found', { figures: { what: 'booking' } });
  return parsed.data;
}

/** The fields of the form that a command's reasons are about. */
const FIELDS: { readonly [field: string]: string } = {
  preUse: tickOf(PRE_USE_LINES[0]),
  withinCall: 'withinCallId',
};

function onForm(refusal: Refusal): Refusal {
  const [first, ...others] = refusal.reasons.map((reason): Reason => {
    const field = reason.field === undefined ? undefined : FIELDS[reason.field];
    return field === undefined ? reason : { ...reason, field };
  });
  return first === undefined ? refusal : new Refusal([first, ...others]);
}

interface Shown {
  readonly given: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

async function sendOpen(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  { given, errorSummary }: Shown,
) {
  const actor = actorOf(request);
  const { database } = house;
  const now = house.now();
  const [booking, rules] = await Promise.all([
    bookingById(database, bookingIdOf(request)),
    rulesAt(database, now),
  ]);
  if (booking === undefined) throw refused('not-found', { figures: { what: 'booking' } });
  const forbidden = refusalUnless(actor, 'booking-run', { ownerId: booking.memberId });
  if (forbidden !== undefined) throw new Refused(forbidden);
  const { timeZone } = rules;
  const runs = await runsOfBooking(database, booking.id);
  const isTime = booking.status === 'booked' && isOpeningTime(booking, now);
  const isOpen = runs.some(({ closedAt }) => closedAt === null);
  const span = openingSpan(booking);
  return sendSheet(
    request,
    reply,
    house,
    'runs/open',
    {
      title: booking.bookingKind === 'trial' ? OPENING_WORDS.trial : OPENING_WORDS.run,
      kicker: booking.plateName,
      current: 'bookings',
      place: rules.makerspaceName,
      titleBlock: [{ label: 'Sheet', value: `Run of booking ${booking.id.slice(0, 8)}` }],
      ...(errorSummary && { errorSummary }),
    },
    {
      booking: { id: booking.id },
      isTrial: booking.bookingKind === 'trial',
      facts: bookingFacts(booking, rules, true, now),
      runs: runs.map((run) => runRow(run, timeZone)),
      ...(isTime && !isOpen
        ? { form: await formOf(database, actor, booking, given, now) }
        : {
            closed: isOpen
              ? OPENING_WORDS.isOpen
              : OPENING_WORDS.notNow(
                  booking.status,
                  clockText(span.startsAt, timeZone),
                  clockText(span.endsAt, timeZone),
                ),
          }),
    },
  );
}

/** The ticks and the lists of names. */
async function formOf(db: Queryable, actor: Actor, booking: Booking, given: Shown['given'], now: Date) {
  const [members, stewardIds] = await Promise.all([
    membersAfter(db, { state: 'active', search: null }, null, MEMBERS_MAX),
    standingStewards(db, now),
  ]);
  const named = members
    .map(({ id: value, displayName: name }) => ({ value, text: name }))
    .sort((one, other) => one.text.localeCompare(other.text, 'en'));
  const selected = (field: string) => (option: { value: string; text: string }) => ({
    ...option,
    selected: given[field] === option.value,
  });
  const stewards = named.filter(({ value }) => stewardIds.includes(value) && value !== booking.memberId);
  return {
    lines: PRE_USE_LINES.map((line) => ({
      id: tickOf(line),
      name: tickOf(line),
      value: 'on',
      text: PRE_USE_WORDS[line].name,
      more: PRE_USE_WORDS[line].how,
      checked: given[tickOf(line)] !== undefined,
    })),
    members: [
      { value: '', text: CHOOSE.member },
      ...named.filter(({ value }) => value !== actor.memberId).map(selected('withinCallId')),
    ],
    withinCallName: given.withinCallName ?? '',
    stewards: [{ value: '', text: CHOOSE.steward }, ...stewards.map(selected('attendedBy'))],
  };
}
