import type { FastifyReply, FastifyRequest } from 'fastify';
import { memberAsking } from '../../http/asker.js';
import { summaryOfErrors, summaryOfRefusal } from '../../http/form.js';
import { leadOn } from '../../http/told-once.js';
import { measuringPlan } from '../../pictures/measuring-plan.js';
import { Refusal } from '../../reasons.js';
import type { ErrorSummaryView } from '../../views.js';
import { readingError, MEASURE_WORDS as WORDS } from '../../words/en/clearance.js';
import { numberText } from '../../words/en/numbers.js';
import { screwsText } from '../../words/en/screws.js';
import type { CheckDone } from '../check-now.js';
import { holesAsDrawn, revisionOnBolster } from './as-drawn.js';
import { addressUnder, type PlateOnBench, plateToDecide, revisionSeen, sendBench } from './bench.js';
import { decideOnce } from './clear.js';
import type { ClearanceHouse } from './clearance-house.js';
import { CORNER_FIELDS, type FitForm, formFieldOf, holeFields, readFitForm } from './fit-form.js';

/** The measuring sheet: on screen a form for the bench, on paper one to fill in there. */
export async function showFit(request: FastifyRequest, reply: FastifyReply, house: ClearanceHouse) {
  const bench = await plateToDecide(request, house);
  return sendFit(request, reply, bench, await drawnOn(bench), {});
}

/** Clears the fit by what was measured, or refuses the plate with it. */
export async function postFit(request: FastifyRequest, reply: FastifyReply, house: ClearanceHouse) {
  const bench = await plateToDecide(request, house);
  const done = await drawnOn(bench);
  const { decision: pressed } = (request.body ?? {}) as { readonly decision?: unknown };
  const decision = pressed === 'refuse' ? 'refuse' : 'clear';
  const holes = done instanceof Refusal ? 0 : done.drawing.bolts.length;
  const form = readFitForm(request.body, holes, decision === 'clear');
  if (Object.keys(form.errors).length > 0) {
    const errorSummary = summaryOfErrors(form.errors, labelsOf(holes));
    return sendFit(request, reply.code(422), bench, done, { form, errorSummary });
  }
  const outcome = await decideOnce(
    house,
    bench.actor,
    {
      plateId: bench.plate.id,
      revision: revisionSeen(request, bench),
      bolsterId: bench.ground.bolster.id,
      step: 'fit',
      decision,
      polymers: [],
      accepted: [],
      readings: form.readings,
      trialRunId: null,
      note: form.note,
    },
    undefined,
  );
  if (!(outcome instanceof Refusal)) {
    const what = decision === 'clear' ? 'cleared' : 'refused';
    return leadOn(reply, house, bench.actor, { what, path: bench.address });
  }
  const reasons = outcome.reasons.map((reason) => ({
    ...reason,
    field: formFieldOf(reason.field, form.readings),
  }));
  const [first = outcome.reasons[0], ...others] = reasons;
  const errors = Object.fromEntries(
    [...reasons].reverse().map((reason) => [reason.field, readingError(reason)]),
  );
  return sendFit(request, reply.code(outcome.status), bench, done, {
    form: { ...form, errors },
    errorSummary: summaryOfRefusal(new Refusal([first, ...others])),
  });
}

function drawnOn({ house, ground, plate, revision, actor }: PlateOnBench) {
  const asked = { plateId: plate.id, revision: revision.revision, facts: revision.facts };
  return revisionOnBolster(house, ground, asked, memberAsking(actor));
}

interface Shown {
  readonly form?: FitForm;
  readonly errorSummary?: ErrorSummaryView;
}

async function sendFit(
  request: FastifyRequest,
  reply: FastifyReply,
  bench: PlateOnBench,
  done: CheckDone | Refusal,
  { form, errorSummary }: Shown,
) {
  const { given = {}, errors = {} } = form ?? {};
  const { facts } = bench.revision;
  const drawn = done instanceof Refusal ? null : done;
  const cell = (id: string, label: string, hint: string) => ({
    id,
    label,
    hint,
    value: given[id] ?? '',
    ...(errors[id] !== undefined && { error: errors[id] }),
  });
  return sendBench(request, reply, bench, {
    step: 'fit',
    template: 'clearance/fit',
    firstAngle: drawn !== null,
    errorSummary,
    data: {
      action: addressUnder(bench, 'fit'),
      corners: CORNER_FIELDS.map((field, i) => cell(field, WORDS.corner(i), WORDS.drawn(facts.thicknessMm))),
      plan: drawn === null ? undefined : measuringPlan(drawn.drawing, WORDS.plan(drawn.drawing.bolts.length)),
      noDrawing: done instanceof Refusal ? summaryOfRefusal(done).items : [],
      holes: drawn === null ? [] : holeCells(bench, drawn, cell),
      feed:
        drawn === null
          ? []
          : [
              cell('feedD', WORDS.feedDiameter, WORDS.drawn(drawn.drawing.feed.diameterMm)),
              cell('feedK', WORDS.feedDepth, WORDS.drawn(drawn.drawing.feed.depthMm)),
            ],
      ticks: [
        { id: 'burrs', name: 'burrs', value: 'on', text: WORDS.burrs, checked: given.burrs === 'on' },
        { id: 'heads', name: 'heads', value: 'on', text: WORDS.heads, checked: given.heads === 'on' },
      ],
      note: cell('note', 'Note', WORDS.noteHint),
      facts: [
        { label: 'Stack', value: stackText(bench) },
        { label: 'Screws', value: screwsText(facts) },
      ],
    },
  });
}

type CellMaker = (id: string, label: string, hint: string) => object;

/** Three cells for each hole; those of a sink only where one is drawn. */
function holeCells({ revision, ground }: PlateOnBench, drawn: CheckDone, cell: CellMaker) {
  return holesAsDrawn(revision.facts, ground.bolster.facts, drawn).map((hole, i) => {
    const fields = holeFields(i + 1);
    const diameter = cell(fields.diameterMm, WORDS.holeDiameter(i + 1), WORDS.drawn(hole.diameterMm));
    if (hole.sinkDepthMm === 0) return { cells: [diameter] };
    const cells = [
      diameter,
      cell(fields.sinkDiameterMm, WORDS.sinkDiameter(i + 1), WORDS.drawn(hole.sinkDiameterMm ?? 0)),
      cell(fields.sinkDepthMm, WORDS.sinkDepth(i + 1), WORDS.drawn(hole.sinkDepthMm)),
    ];
    return { cells };
  });
}

function stackText({ revision: { facts }, ground }: PlateOnBench): string {
  const { minimumDaylightMm, largestStackMm } = ground.bolster.facts;
  const stackMm = facts.thicknessMm + facts.facingThicknessMm + facts.packerThicknessMm;
  return `${numberText(stackMm)} mm as drawn; the bolster takes ${numberText(minimumDaylightMm)} to ${numberText(largestStackMm)} mm`;
}

function labelsOf(holes: number): { readonly [field: string]: string } {
  const corners = CORNER_FIELDS.map((field, i) => [field, WORDS.corner(i)] as const);
  const ofHoles = Array.from({ length: holes }, (_, i) => {
    const fields = holeFields(i + 1);
    return [
      [fields.diameterMm, WORDS.holeDiameter(i + 1)],
      [fields.sinkDiameterMm, WORDS.sinkDiameter(i + 1)],
      [fields.sinkDepthMm, WORDS.sinkDepth(i + 1)],
    ] as const;
  }).flat();
  return Object.fromEntries([
    ...corners,
    ...ofHoles,
    ['feedD', WORDS.feedDiameter],
    ['feedK', WORDS.feedDepth],
    ['burrs', 'Burrs'],
    ['heads', 'Screw heads'],
    ['note', 'Note'],
  ]);
}
