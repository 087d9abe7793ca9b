import type { FastifyReply, FastifyRequest } from 'fastify';
import { summaryOfErrors, summaryOfRefusal } from '../../http/form.js';
import { id as idSchema } from '../../http/id.js';
import { leadOn } from '../../http/told-once.js';
import { Refusal } from '../../reasons.js';
import type { ErrorSummaryView } from '../../views.js';
import { CLEARANCE_ERRORS, trialText } from '../../words/en/clearance.js';
import { momentText } from '../../words/en/times.js';
import { fieldsOf } from '../plate-form.js';
import { addressUnder, type PlateOnBench, plateToDecide, revisionSeen, sendBench } from './bench.js';
import { decideOnce } from './clear.js';
import type { ClearanceHouse } from './clearance-house.js';
import { trialsOf } from './reasons-against.js';
import { clearanceNote } from './schemas.js';
import { clearancesStanding } from './store.js';

interface Shown {
  readonly run: string;
  readonly note: string;
  readonly errors: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

/** The decision about a plate's first run: by its trial sheet, or by what was seen. */
export async function showTrial(request: FastifyRequest, reply: FastifyReply, house: ClearanceHouse) {
  return sendTrial(request, reply, await plateToDecide(request, house), { run: '', note: '', errors: {} });
}

/** Clears the trial, or refuses the plate by what was seen. */
export async function postTrial(request: FastifyRequest, reply: FastifyReply, house: ClearanceHouse) {
  const bench = await plateToDecide(request, house);
  const { run = '', note = '', decision: pressed } = fieldsOf(request.body);
  const trialRunId = idSchema.safeParse(run).data ?? null;
  const read = clearanceNote.safeParse(note);
  const decision = pressed === 'refuse' ? 'refuse' : 'clear';
  const errors: { readonly [field: string]: string } =
    note.trim() !== '' && !read.success
      ? { note: CLEARANCE_ERRORS.note }
      : note.trim() === '' && decision === 'clear' && trialRunId === null
        ? { note: CLEARANCE_ERRORS.trial }
        : {};
  const typed = { run, note, errors };
  if (Object.keys(errors).length > 0) {
    const errorSummary = summaryOfErrors(errors);
    return sendTrial(request, reply.code(422), bench, { ...typed, errorSummary });
  }
  const outcome = await decideOnce(
    house,
    bench.actor,
    {
      plateId: bench.plate.id,
      revision: revisionSeen(request, bench),
      bolsterId: bench.ground.bolster.id,
      step: 'trial',
      decision,
      polymers: [],
      accepted: [],
      readings: null,
      trialRunId,
      note: read.data ?? null,
    },
    undefined,
  );
  if (!(outcome instanceof Refusal)) {
    const what = decision === 'clear' ? 'cleared' : 'refused';
    return leadOn(reply, house, bench.actor, { what, path: bench.address });
  }
  const errorSummary = summaryOfRefusal(outcome);
  return sendTrial(request, reply.code(outcome.status), bench, { ...typed, errorSummary });
}

async function sendTrial(request: FastifyRequest, reply: FastifyReply, bench: PlateOnBench, shown: Shown) {
  const { house, plate, rules, ground } = bench;
  const { id: bolsterId, version: bolsterVersion } = ground.bolster;
  const thing = { plateId: plate.id, revision: plate.latestRevision, bolsterId, bolsterVersion };
  const runs = trialsOf(
    await house.trialRuns(house.database, plate.id),
    thing,
    await clearancesStanding(house.database, thing),
  );
  const choices = [
    ...runs.map((run) => ({
      id: `run-${run.id}`,
      value: run.id,
      text: `Trial of ${momentText(run.closedAt, rules.timeZone)}`,
      more: trialText(run.polymer, run.outcome),
      checked: shown.run === run.id || (shown.run === '' && run === runs[0]),
    })),
    {
      id: 'run-none',
      value: 'none',
      text: 'No trial sheet was kept',
      more: 'the note then tells what was set and seen, and the history says that there is no sheet',
      checked: runs.length === 0 || shown.run === 'none',
    },
  ];
  return sendBench(request, reply, bench, {
    step: 'trial',
    template: 'clearance/trial',
    errorSummary: shown.errorSummary,
    data: {
      sheets: runs.map((run) => ({
        href: `/runs/${run.id}`,
        text: `Trial sheet of ${momentText(run.closedAt, rules.timeZone)}`,
      })),
      action: addressUnder(bench, 'trial'),
      choices,
      note: { value: shown.note, error: shown.errors.note },
    },
  });
}
