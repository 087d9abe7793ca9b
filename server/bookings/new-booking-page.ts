import type { FastifyReply, FastifyRequest } from 'fastify';
import { POLYMERS } from '../engineering/polymers/polymers.js';
import { actorOf } from '../http/acting.js';
import { type FieldErrors, readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import { sendSheet } from '../http/sheet.js';
import { leadOn } from '../http/told-once.js';
import { missingCompetences } from '../inductions/standing.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { polymerNamed } from '../plates/polymer-named.js';
import { type Plate, type PlateVerdict, plateById, visiblePlates } from '../plates/store.js';
import { transactWithReport } from '../plates/transact-with-report.js';
import { verdictsNow } from '../plates/verdicts-now.js';
import { type Reason, Refusal } from '../reasons.js';
import { dayOf } from '../shop/opening-hours.js';
import { rulesAt } from '../shop/store.js';
import type { ErrorSummaryView } from '../views.js';
import {
  ASKED,
  BOOKING_LABELS,
  CONDITION_WORDS,
  GRANULATE_OPTIONS,
  KIND_OPTIONS,
  missingText,
  NOT_ASKED_YET,
  plateOptionText,
  SEE_BOOKING,
  SEE_REPORT,
  signOffNotice,
  stoppedText,
  withResin,
} from '../words/en/bookings.js';
import { wordReason } from '../words/en/reasons.js';
import { momentText } from '../words/en/times.js';
import { book } from './book.js';
import { bookingForm, refusalOnForm, spanOfForm } from './booking-form.js';
import { signOffLines } from './booking-sheet.js';
import { CONDITIONS } from './conditions.js';
import { competencesNeeded } from './sign-offs-needed.js';

/** Plates offered on the form, newest first: more than anybody here has. */
const PLATES_OFFERED_MAX = 200;

/** Chosen while nobody has chosen. */
const FIRST_POLYMER = 'PP';

/** What the form is filled with, and what was wrong with it. */
interface Shown {
  readonly given: { readonly [field: string]: string };
  readonly errors?: FieldErrors;
  readonly errorSummary?: ErrorSummaryView;
}

/** The form, filled with what the address carries: plate, resin, day. */
export async function showNewBooking(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const { given } = readForm(bookingForm, request.query);
  return showForm(request, reply, house, { given });
}

/** Books, or shows the form again with every reason why not. */
export async function postNewBooking(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const outcome = await bookFromForm(request, house);
  if ('bookingId' in outcome) {
    const done = { what: 'booked', path: `/bookings/${outcome.bookingId}` };
    return leadOn(reply, house, actorOf(request), done);
  }
  reply.code(outcome.status);
  return showForm(request, reply, house, outcome);
}

type Outcome = { readonly bookingId: string } | (Shown & { readonly status: number });

async function bookFromForm(request: FastifyRequest, house: CheckingHouse): Promise<Outcome> {
  const { given, value, errors } = readForm(bookingForm, request.body);
  if (errors !== undefined) return wrong(given, errors);
  const { timeZone } = await rulesAt(house.database, house.now());
  const span = spanOfForm(value, timeZone);
  if ('errors' in span) return wrong(given, span.errors);
  const polymer = polymerNamed(value.polymer);
  if (polymer instanceof Refusal) return refusedForm(given, polymer);
  const plate = await plateById(house.database, value.plateId);
  const wanted = {
    ...span,
    plateId: value.plateId,
    revision: plate?.latestRevision ?? 1,
    polymer,
    bookingKind: value.bookingKind,
    granulate: value.granulate,
    shots: value.shots,
  };
  const booked = await transactWithReport(house, actorOf(request), (ctx) => book(ctx, wanted));
  return booked instanceof Refusal ? refusedForm(given, booked) : { bookingId: booked };
}

function wrong(given: Shown['given'], errors: FieldErrors): Outcome {
  return { status: 422, given, errors, errorSummary: summaryOfErrors(errors, BOOKING_LABELS) };
}

function refusedForm(given: Shown['given'], refusal: Refusal): Outcome {
  const onForm = refusalOnForm(refusal);
  const errors = Object.fromEntries(
    onForm.reasons.flatMap((reason) =>
      reason.field === undefined ? [] : [[reason.field, wordReason(reason).message]],
    ),
  );
  return {
    status: refusal.status,
    given,
    errors,
    errorSummary: summaryOfRefusal(onForm, (reason) => whereSeen(reason, given)),
  };
}

/** Where a reason is seen whole: the report that says stop, the own booking that is in the way. */
function whereSeen({ code, figures = {} }: Reason, { plateId = '', polymer = '' }: Shown['given']) {
  if (figures.ownBookingId !== undefined)
    return { href: `/bookings/${figures.ownBookingId}`, text: SEE_BOOKING };
  if (code !== 'report-has-stop') return undefined;
  return { href: `/plates/${plateId}?polymer=${encodeURIComponent(polymer)}`, text: SEE_REPORT };
}

async function showForm(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse, shown: Shown) {
  const { memberId } = actorOf(request);
  const { database } = house;
  const { given, errors = {}, errorSummary } = shown;
  const work = { polymer: given.polymer ?? FIRST_POLYMER, granulate: given.granulate === 'on' };
  const now = house.now();
  const rules = await rulesAt(database, now);
  const plates = await visiblePlates(database, { ownedBy: memberId }, null, PLATES_OFFERED_MAX);
  const missing = await missingCompetences(database, memberId, competencesNeeded(work), now);
  const ids = plates.map(({ id }) => id);
  const verdicts = await verdictsNow(database, now, ids);
  return sendSheet(
    request,
    reply,
    house,
    'bookings/new',
    {
      title: 'Book the press',
      kicker: 'From idea to slot',
      current: 'bookings',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: 'A new booking' },
        { label: 'Times', value: `on the clock of ${rules.makerspaceName}` },
        { label: 'Drawn', value: momentText(now, rules.timeZone) },
        { label: 'Shop rules', value: `version ${rules.version}` },
      ],
      ...(errorSummary && { errorSummary }),
      ...(missing.length > 0 && { notices: [signOffNotice(missing)] }),
    },
    {
      plates: plateOptions(plates, verdicts, shown.given.plateId),
      stopped: stoppedPlate(plates, verdicts, given),
      polymers: polymerOptions(given.polymer),
      date: given.date ?? dayOf(now, rules.timeZone).add({ days: 1 }).toString(),
      from: given.from ?? '',
      to: given.to ?? '',
      shots: given.shots ?? '',
      errors,
      hasPlates: plates.length > 0,
      stepSeconds: rules.slotStepMinutes * 60,
      longestHours: rules.longestStretchMinutes / 60,
      conditions: conditionRows(missing),
      signOffs: signOffLines(work),
      signOffsNote: withResin(work.polymer),
      kinds: kindOptions(given.bookingKind),
      granulating: granulateOptions(work.granulate),
    },
  );
}

/** What a booking will be asked, and what the member lacks of it already. */
function conditionRows(signOffsMissing: readonly string[]) {
  return CONDITIONS.map(({ name, ask }) => {
    const label = CONDITION_WORDS[name];
    if (ask === null) return { label, value: NOT_ASKED_YET };
    if (name === 'sign-offs' && signOffsMissing.length > 0) {
      return { label, value: missingText(signOffsMissing), strong: true };
    }
    return { label, value: ASKED };
  });
}

type Verdicts = ReadonlyMap<string, PlateVerdict>;

/** A plate with a stop says so, and is chosen by nobody but who asks for it. */
function plateOptions(plates: readonly Plate[], verdicts: Verdicts, asked: string | undefined) {
  const chosen = asked ?? plates.find(({ id }) => verdicts.get(id)?.verdict !== 'stop')?.id;
  return plates.map(({ id, name, latestRevision }) => ({
    value: id,
    text: plateOptionText(name, latestRevision, verdicts.get(id)),
    selected: id === chosen,
  }));
}

/** The plate that was asked for, where its check has a stop, with its report. */
function stoppedPlate(plates: readonly Plate[], verdicts: Verdicts, { plateId }: Shown['given']) {
  const plate = plates.find(({ id }) => id === plateId);
  const found = plate && verdicts.get(plate.id);
  if (found?.verdict !== 'stop') return undefined;
  const href = `/plates/${found.plateId}?polymer=${encodeURIComponent(found.polymer)}`;
  return { strong: plate?.name, text: stoppedText(found.polymer), link: { href, text: SEE_REPORT } };
}

function kindOptions(chosen = 'production') {
  return (['production', 'trial'] as const).map((kind) => ({
    value: kind,
    text: KIND_OPTIONS[kind],
    selected: kind === chosen,
  }));
}

function granulateOptions(chosen: boolean) {
  return [
    { value: '', text: GRANULATE_OPTIONS.no, selected: !chosen },
    { value: 'on', text: GRANULATE_OPTIONS.yes, selected: chosen },
  ];
}

function polymerOptions(chosen = FIRST_POLYMER) {
  return POLYMERS.map(({ symbol, name }) => ({
    value: symbol,
    text: `${symbol}, ${name}`,
    selected: symbol === chosen,
  }));
}
