import type { FastifyReply, FastifyRequest } from 'fastify';
import { transact } from '../database/transaction.js';
import { actorOf } from '../http/acting.js';
import { cursor, cutPage } from '../http/cursor.js';
import { readForm, summaryOfErrors, summaryOfRefusal } from '../http/form.js';
import { id } from '../http/id.js';
import { accept, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { justDone, leadOn } from '../http/told-once.js';
import { may } from '../members/permissions.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { photographOfForm } from '../plates/photographs/photograph-of-form.js';
import { Refusal } from '../reasons.js';
import { rulesAt } from '../shop/store.js';
import type { ErrorSummaryView } from '../views.js';
import { OUTCOME_WORDS, RUN_DONE, RUN_KIND_WORDS, RUN_LABELS } from '../words/en/runs.js';
import { planNotes, WENT_WORDS } from '../words/en/trial-steps.js';
import { closeRun } from './close-run.js';
import { keepStep } from './keep-step.js';
import { OUTCOMES } from './outcomes.js';
import { dueStep, keptRow, plannedStep, runFacts, runRow } from './run-sheet.js';
import { closeForm, stepForm } from './step-form.js';
import { type KeptStep, type Run, runsOf, stepsOf } from './store.js';
import { WENT, whereIn } from './trial/where.js';
import { visibleRun } from './visible-run.js';

const LISTED_MAX = 100;

/** Runs of one's own bookings; a steward sees everybody's. */
export async function showRuns(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const rules = await rulesAt(house.database, house.now());
  const seesAll = may(actor, 'booking-see-whole');
  const after = cursor.optional().safeParse((request.query as { after?: unknown }).after);
  const whose = seesAll ? null : actor.memberId;
  const rows = await runsOf(house.database, whose, after.data ?? null, LISTED_MAX + 1);
  const page = cutPage(rows, LISTED_MAX, (run) => ({ at: run.openedAt, id: run.id }));
  return sendSheet(
    request,
    reply,
    house,
    'runs/runs',
    {
      title: seesAll ? 'Runs' : 'My runs',
      kicker: 'What was run on the press',
      current: 'bookings',
      place: rules.makerspaceName,
      titleBlock: [{ label: 'Sheet', value: 'Runs' }],
    },
    {
      rows: page.items.map((run) => runRow(run, rules.timeZone)),
      ...(page.next !== null && { older: `/runs?after=${page.next}` }),
    },
  );
}

/** One run: the step that is due, what was kept, and how it is closed. */
export async function showRun(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  return sendRun(request, reply, house, {});
}

/** Keeps a step, with its photograph where there is one, or says what is wrong. */
export async function postStep(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const runId = runIdOf(request);
  accept(await visibleRun(house.database, actor, runId));
  const { given, value, errors } = readForm(stepForm, request.body);
  if (errors !== undefined) {
    return sendRun(request, reply.code(422), house, {
      given,
      errorSummary: summaryOfErrors(errors, RUN_LABELS),
    });
  }
  const photograph = hasPhotograph(request) ? await photographOfForm(request) : null;
  const outcome =
    photograph instanceof Refusal
      ? photograph
      : await transact(house.database, (tx) =>
          keepStep({ actor, now: house.now(), tx }, { ...value, runId, photograph }),
        );
  if (!(outcome instanceof Refusal))
    return leadOn(reply, house, actor, { what: 'step', path: `/runs/${runId}` });
  return answerRefusal(request, reply, house, outcome, given);
}

/** Closes a run, or says why not. */
export async function postClose(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const runId = runIdOf(request);
  accept(await visibleRun(house.database, actor, runId));
  const { given, value, errors } = readForm(closeForm, request.body);
  if (errors !== undefined) {
    return sendRun(request, reply.code(422), house, {
      given,
      errorSummary: summaryOfErrors(errors, RUN_LABELS),
    });
  }
  const outcome = await transact(house.database, (tx) =>
    closeRun({ actor, now: house.now(), tx }, { runId, ...value }),
  );
  if (!(outcome instanceof Refusal)) {
    return leadOn(reply, house, actor, { what: 'closed', path: `/runs/${runId}` });
  }
  return answerRefusal(request, reply, house, outcome, given);
}

/** What may not be seen or done is answered as everywhere; the rest stands above the forms. */
async function answerRefusal(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  refusal: Refusal,
  given: Shown['given'] & object,
) {
  if (refusal.status === 404 || refusal.status === 403) accept(refusal);
  const errorSummary = summaryOfRefusal(refusal);
  return sendRun(request, reply.code(refusal.status), house, { given, errorSummary });
}

/** A browser sends an empty file where none was chosen. */
function hasPhotograph(request: FastifyRequest): boolean {
  return request.uploads.some(
    ({ field, bytes, tooLarge }) => field === 'photograph' && (tooLarge || bytes.byteLength > 0),
  );
}

function runIdOf(request: FastifyRequest): string {
  const parsed = id.safeParse((request.params as { readonly id?: unknown }).id);
  if (!parsed.success) throw refused('not-found', { figures: { what: 'run' } });
  return parsed.data;
}

interface Shown {
  readonly given?: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

async function sendRun(
  request: FastifyRequest,
  reply: FastifyReply,
  house: CheckingHouse,
  { given = {}, errorSummary }: Shown,
) {
  const actor = actorOf(request);
  const { database } = house;
  const run = accept(await visibleRun(database, actor, runIdOf(request)));
  const [rules, kept] = await Promise.all([rulesAt(database, house.now()), stepsOf(database, run.id)]);
  const done = justDone(request, reply, house);
  const notice = Object.entries(RUN_DONE).find(([what]) => what === done)?.[1];
  const changes = run.closedAt === null && may(actor, 'booking-run', { ownerId: run.memberId });
  return sendSheet(
    request,
    reply,
    house,
    'runs/run',
    {
      title: run.plateName,
      kicker: `Run, ${RUN_KIND_WORDS[run.kind]}`,
      current: 'bookings',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: `Run ${run.id.slice(0, 8)}` },
        { label: 'Bolster', value: `${run.bolsterName}, version ${run.bolsterVersion}` },
      ],
      ...(notice && { notices: [notice] }),
      ...(errorSummary && { errorSummary }),
    },
    {
      run: { id: run.id },
      facts: runFacts(run, rules.timeZone),
      links: linksOf(run),
      ...trialOf(run, kept, changes, rules.timeZone, given),
      ...(changes && { close: closeOf(run, kept, given) }),
    },
  );
}

function linksOf({ bookingId, plateId, kind }: Run) {
  return [
    { href: `/bookings/${bookingId}`, text: 'The booking' },
    { href: `/plates/${plateId}`, text: 'The plate' },
    ...(kind === 'trial'
      ? [{ href: `/bookings/${bookingId}/trial-sheet`, text: 'The trial sheet, to print' }]
      : []),
  ];
}

/** A trial's due step, what was kept, and all its steps. */
function trialOf(
  { trialPlan }: Run,
  kept: readonly KeptStep[],
  changes: boolean,
  timeZone: string,
  given: { readonly [field: string]: string },
) {
  if (trialPlan === null) return {};
  const where = whereIn(trialPlan, kept);
  const { next } = where;
  const last = kept.findLast(({ step }) => step === next?.name)?.setAs;
  return {
    trial: {
      notes: planNotes(trialPlan),
      steps: trialPlan.steps.map((step, place) => ({
        ...plannedStep(step),
        number: place + 1,
        isDone: place < where.place,
        isDue: step === next,
      })),
      kept: kept.map((one) => keptRow(one, timeZone)),
      isStopped: where.isStopped,
      isThrough: where.isThrough,
    },
    ...(changes &&
      next !== undefined && {
        due: {
          ...filled(dueStep(next, last), given),
          number: where.place + 1,
          of: trialPlan.steps.length,
          note: given.went === undefined ? '' : (given.note ?? ''),
          buttons: WENT.filter((went) => went !== 'back' || where.place > 0).map((went) => ({
            value: went,
            text: WENT_WORDS[went].button,
            kind: went === 'on' ? '' : went === 'stop' ? 'refuse' : 'second',
          })),
        },
      }),
  };
}

/** The due step's form with what was sent, where it is shown again. */
function filled(due: ReturnType<typeof dueStep>, given: { readonly [field: string]: string }) {
  if (given.step !== due.code) return due;
  return {
    ...due,
    fields: due.fields.map((field) => ({ ...field, value: given[field.id] ?? field.value })),
    observations: due.observations.map((one) => ({ ...one, checked: given[one.name] !== undefined })),
  };
}

function closeOf(run: Run, kept: readonly KeptStep[], given: { readonly [field: string]: string }) {
  const isWell = run.trialPlan === null || whereIn(run.trialPlan, kept).isThrough;
  return {
    outcomes: OUTCOMES[run.kind]
      .filter((outcome) => isWell || outcome !== 'runs-well')
      .map((outcome) => ({
        id: `outcome-${outcome}`,
        value: outcome,
        text: OUTCOME_WORDS[outcome].name,
        more: OUTCOME_WORDS[outcome].how,
        checked: given.outcome === outcome,
      })),
    note: given.outcome === undefined ? '' : (given.note ?? ''),
  };
}
