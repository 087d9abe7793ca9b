import type { FastifyReply, FastifyRequest } from 'fastify';
import type { TrialStep } from '../engineering/run/trial-steps.js';
import { actorOf } from '../http/acting.js';
import { memberAsking } from '../http/asker.js';
import { id } from '../http/id.js';
import { accept, refused } from '../http/refused.js';
import { sendSheet } from '../http/sheet.js';
import { linkAddress } from '../members/link-address.js';
import { qr } from '../pictures/qr.js';
import { checkGround } from '../plates/check-ground.js';
import type { CheckingHouse } from '../plates/checking-house.js';
import { revisionOf } from '../plates/store.js';
import { rulesAt } from '../shop/store.js';
import { PRE_USE_WORDS, RUN_CAUTIONS } from '../words/en/runs.js';
import { dateText, momentText, spanText } from '../words/en/times.js';
import { planNotes, SET_AS_BEFORE, stackText, stepWithoutNumber } from '../words/en/trial-steps.js';
import { PRE_USE_LINES } from './pre-use.js';
import { plannedStep } from './run-sheet.js';
import { runsOfBooking } from './store.js';
import { bookedTrial } from './trial/booked-trial.js';
import { preparePlan } from './trial/plan.js';

/**
 * A booked trial on paper: what to set, look for and stop at, with boxes to fill by hand. Of a trial that has been
 * opened it has the steps as they were estimated then.
 */
export async function showTrialSheet(request: FastifyRequest, reply: FastifyReply, house: CheckingHouse) {
  const actor = actorOf(request);
  const { database } = house;
  const now = house.now();
  const parsed = id.safeParse((request.params as { readonly id?: unknown }).id);
  if (!parsed.success) throw refused('not-found', { figures: { what: 'booking' } });
  const booking = accept(await bookedTrial(database, actor, parsed.data));
  const [rules, runs, revision] = await Promise.all([
    rulesAt(database, now),
    runsOfBooking(database, booking.id),
    revisionOf(database, booking.plateId, booking.revision),
  ]);
  const run = runs.at(-1);
  const plan = run?.trialPlan ?? accept(await preparePlan(house, booking, memberAsking(actor))).plan;
  const bolster = run ?? bolsterNow(accept(await checkGround(database, now, null)));
  const { timeZone } = rules;
  const address = linkAddress(request, house, `/bookings/${booking.id}/run`);
  return sendSheet(
    request,
    reply,
    house,
    'runs/trial-sheet',
    {
      title: booking.plateName,
      kicker: 'Trial sheet: attended first run',
      current: 'bookings',
      place: rules.makerspaceName,
      titleBlock: [
        { label: 'Sheet', value: `Trial ${booking.id.slice(0, 8)}` },
        { label: 'Bolster', value: `${bolster.bolsterName}, version ${bolster.bolsterVersion}` },
        { label: 'Drawn', value: momentText(now, timeZone) },
      ],
    },
    {
      booking: { id: booking.id },
      facts: [
        { label: 'Plate', value: `${booking.plateName}, revision ${booking.revision}` },
        { label: 'Resin', value: booking.polymer },
        { label: 'Who', value: booking.displayName },
        { label: 'When', value: spanText(booking.startsAt, booking.endsAt, timeZone) },
        ...(revision === undefined ? [] : stackText(revision.facts)),
      ],
      origin:
        run === undefined
          ? 'From the estimate: nothing has been run yet.'
          : `From the estimate of ${dateText(run.openedAt, timeZone)}.`,
      notes: planNotes(plan),
      steps: sheetSteps(plan.steps),
      preUse: PRE_USE_LINES.map((line) => PRE_USE_WORDS[line].name),
      withinCall: run?.withinCallName ?? '',
      attendedBy: run?.attendedByName ?? '',
      cautions: RUN_CAUTIONS,
      qr: qr(address, 'QR code that leads back to the log of this trial'),
      address,
    },
  );
}

function bolsterNow({ bolster }: { readonly bolster: { readonly name: string; readonly version: number } }) {
  return { bolsterName: bolster.name, bolsterVersion: bolster.version };
}

/** The steps as paper has room for them: what is only done as needed shares one row. */
function sheetSteps(steps: readonly TrialStep[]) {
  const always = steps.filter(({ asNeeded }) => !asNeeded);
  const [first, ...others] = steps.filter(({ asNeeded }) => asNeeded);
  const rows = always.map((step, i) => sheetStep(step, always[i - 1], i + 1));
  if (first === undefined) return rows;
  const row = sheetStep(first, always.at(-1), always.length + 1);
  const set = [...row.set, ...others.flatMap((step, i) => sheetStep(step, others[i - 1] ?? first, 0).set)];
  return [...rows, { ...row, name: stepWithoutNumber(first), set }];
}

/** A step with only what it sets otherwise than the one before. */
function sheetStep(step: TrialStep, before: TrialStep | undefined, number: number) {
  const planned = plannedStep(step);
  const known = before === undefined ? [] : plannedStep(before).set;
  const changed = planned.set.filter((line) => !known.includes(line));
  return {
    ...planned,
    set: changed.length === 0 ? [SET_AS_BEFORE] : changed,
    number,
    asBefore: before?.kind === step.kind,
  };
}
