import type { FastifyReply, FastifyRequest } from 'fastify';
import { summaryOfRefusal } from '../../http/form.js';
import { justDone, leadOn } from '../../http/told-once.js';
import { may } from '../../members/permissions.js';
import { bolsters } from '../../press/store.js';
import { Refusal } from '../../reasons.js';
import type { ErrorSummaryView } from '../../views.js';
import { CLEARANCE_DONE, CLEARANCE_ERRORS, STEP_WORDS } from '../../words/en/clearance.js';
import { fieldsOf } from '../plate-form.js';
import {
  addressUnder,
  type PlateOnBench,
  plateOnBench,
  plateToDecide,
  revisionSeen,
  sendBench,
} from './bench.js';
import { decideOnce, reworkOnce } from './clear.js';
import type { ClearanceHouse } from './clearance-house.js';
import { refusalToDecide } from './decide.js';
import { historyOf } from './history.js';
import { nextText } from './next-text.js';
import { clearanceNote } from './schemas.js';
import { nextStep, STEPS, stepsReached } from './steps.js';
import { historyViews, stepViews } from './steps-view.js';
import { worseNow } from './worse-now.js';

/** What was refused of a form on the page, with what was typed. */
interface Tried {
  readonly form: 'void' | 'rework';
  readonly text: string;
  readonly error?: string;
  readonly errorSummary?: ErrorSummaryView;
}

/** The three steps of a plate on a bolster, everything that was decided, and what can be done about it. */
export async function showClearance(request: FastifyRequest, reply: FastifyReply, house: ClearanceHouse) {
  return sendClearance(request, reply, await plateOnBench(request, house), null);
}

/** Takes the clearance back, from a step on, with a reason. */
export async function postVoid(request: FastifyRequest, reply: FastifyReply, house: ClearanceHouse) {
  const bench = await plateToDecide(request, house);
  const { step: asked = '', reason = '' } = fieldsOf(request.body);
  const note = clearanceNote.safeParse(reason);
  if (!note.success) {
    const tried: Tried = { form: 'void', text: reason, error: CLEARANCE_ERRORS.reason };
    return sendClearance(request, reply.code(422), bench, tried);
  }
  const outcome = await decideOnce(
    house,
    bench.actor,
    {
      plateId: bench.plate.id,
      revision: revisionSeen(request, bench),
      bolsterId: bench.ground.bolster.id,
      step: STEPS.find((step) => step === asked) ?? 'fit',
      decision: 'void',
      polymers: [],
      accepted: [],
      readings: null,
      trialRunId: null,
      note: note.data,
    },
    undefined,
  );
  if (!(outcome instanceof Refusal))
    return leadOn(reply, house, bench.actor, { what: 'taken-back', path: bench.address });
  const errorSummary = summaryOfRefusal(outcome);
  const tried: Tried = { form: 'void', text: reason, errorSummary };
  return sendClearance(request, reply.code(outcome.status), bench, tried);
}

/** Says that the metal was changed: the plate goes back to be measured. */
export async function postRework(request: FastifyRequest, reply: FastifyReply, house: ClearanceHouse) {
  const bench = await plateOnBench(request, house);
  const { reason = '' } = fieldsOf(request.body);
  const given = clearanceNote.safeParse(reason);
  const tried = { form: 'rework', text: reason } as const;
  if (!given.success) {
    const error = CLEARANCE_ERRORS.reason;
    // Who may not do it at all is told so, whatever they wrote.
    if (may(bench.actor, 'plate-rework', bench.plate))
      return sendClearance(request, reply.code(422), bench, { ...tried, error });
  }
  const wanted = {
    plateId: bench.plate.id,
    revision: revisionSeen(request, bench),
    reason: given.data ?? '-',
  };
  const outcome = await reworkOnce(house, bench.actor, wanted, undefined);
  if (!(outcome instanceof Refusal))
    return leadOn(reply, house, bench.actor, { what: 'reworked', path: bench.address });
  const errorSummary = summaryOfRefusal(outcome);
  return sendClearance(request, reply.code(outcome.status), bench, { ...tried, errorSummary });
}

async function sendClearance(
  request: FastifyRequest,
  reply: FastifyReply,
  bench: PlateOnBench,
  tried: Tried | null,
) {
  const { house, actor, plate, ground, rules, standing } = bench;
  const since = await historyOf(house.database, plate);
  const about = { revision: plate.latestRevision, bolsterId: ground.bolster.id };
  const done = CLEARANCE_DONE[justDone(request, reply, house) ?? ''];
  const next = nextStep(standing.reached);
  const decides = refusalToDecide(actor, plate, bench.revision) === undefined;
  const decided = since.decisions.find(
    (made) => made.bolsterId === about.bolsterId && made.revision === about.revision,
  );
  const reworkable =
    decided !== undefined && decided.decision !== 'rework' && may(actor, 'plate-rework', plate);
  const typed = (form: Tried['form']) =>
    tried?.form === form ? { text: tried.text, error: tried.error } : { text: '' };
  return sendBench(request, reply, bench, {
    step: null,
    template: 'clearance/clearance',
    ...(done && { notices: [done] }),
    errorSummary: tried?.errorSummary,
    data: {
      steps: stepViews(standing, about, since, rules.timeZone),
      next: nextText(bench, decided?.decision === 'refuse'),
      voidAction: addressUnder(bench, 'void'),
      reworkAction: addressUnder(bench, 'rework'),
      otherBolsters: (await bolsters(house.database))
        .filter(({ id }) => id !== ground.bolster.id)
        .map(({ id, name }) => ({
          href: `/plates/${plate.id}/clearance?bolsterId=${id}`,
          text: `On ${name}`,
        })),
      refusedBecause: standing.refusedBecause ?? '',
      ownPlate: actor.stewards && plate.ownerId === actor.memberId,
      worse: await worseNow(bench),
      ...(decides &&
        next !== null && { doNext: { href: addressUnder(bench, next), text: NEXT_BUTTONS[next] } }),
      ...(decides &&
        next === null && {
          more: { href: addressUnder(bench, 'production'), text: 'Clear it in another resin, or anew' },
        }),
      ...(decides &&
        standing.reached !== 'none' && {
          takeBack: {
            ...typed('void'),
            steps: STEPS.filter((step) => stepsReached(step) <= stepsReached(standing.reached)).map(
              (step) => ({
                value: step,
                text: STEP_WORDS[step].name,
              }),
            ),
          },
        }),
      ...(reworkable && { rework: typed('rework') }),
      history: historyViews(since, rules.timeZone),
    },
  });
}

const NEXT_BUTTONS = {
  fit: 'Measure it',
  trial: 'Decide about its trial',
  production: 'Sign it for production',
} as const;
