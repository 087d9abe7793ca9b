import type { FastifyReply, FastifyRequest } from 'fastify';
import { CHECKS, type CheckName, type Verdict } from '../../engineering/finding.js';
import { POLYMERS } from '../../engineering/polymers/polymers.js';
import { memberAsking } from '../../http/asker.js';
import { summaryOfErrors, summaryOfRefusal } from '../../http/form.js';
import { leadOn } from '../../http/told-once.js';
import { Refusal } from '../../reasons.js';
import type { ErrorSummaryView } from '../../views.js';
import { CLEARANCE_ERRORS } from '../../words/en/clearance.js';
import type { CheckReport } from '../check-report-schema.js';
import { fieldsOf } from '../plate-form.js';
import { polymersChecked } from '../store.js';
import { storedReport } from '../stored-report.js';
import { addressUnder, type PlateOnBench, plateToDecide, revisionSeen, sendBench } from './bench.js';
import { decideOnce } from './clear.js';
import type { ClearanceHouse } from './clearance-house.js';
import type { AcceptedByName } from './decide.js';
import { clearanceNote } from './schemas.js';

/** A line of a report that is not clear: to be accepted by its name, or a stop. */
interface NotClear {
  readonly polymer: string;
  readonly check: CheckName;
  readonly name: string;
  readonly verdict: Verdict;
  readonly line: string;
  readonly summary: string;
}

/** What one polymer's report says today. */
interface PolymerReport {
  readonly polymer: string;
  readonly notClear: readonly NotClear[];
  readonly clear: number;
}

interface Shown {
  readonly given: { readonly [field: string]: string | undefined };
  readonly errors: { readonly [field: string]: string };
  readonly errorSummary?: ErrorSummaryView;
}

/** The decision for production: every caution of every resin's report, with a tick and a note each. */
export async function showProduction(request: FastifyRequest, reply: FastifyReply, house: ClearanceHouse) {
  const bench = await plateToDecide(request, house);
  const { polymer } = request.query as { readonly polymer?: unknown };
  const polymers = await polymersAsked(bench, polymer);
  return sendProduction(request, reply, bench, polymers, { given: {}, errors: {} });
}

/** Clears the plate in the resins shown, or refuses it. */
export async function postProduction(request: FastifyRequest, reply: FastifyReply, house: ClearanceHouse) {
  const bench = await plateToDecide(request, house);
  const given = fieldsOf(request.body);
  const polymers = known((given.polymers ?? '').split(' '));
  const decision = given.decision === 'refuse' ? 'refuse' : 'clear';
  const reports = await reportsOf(bench, polymers);
  if (reports instanceof Refusal) {
    const errorSummary = summaryOfRefusal(reports);
    return sendProduction(request, reply.code(reports.status), bench, polymers, {
      given,
      errors: {},
      errorSummary,
    });
  }
  const read = clearanceNote.safeParse(given.note ?? '');
  const note = read.data ?? null;
  const errors = {
    ...((given.note ?? '').trim() !== '' && !read.success && { note: CLEARANCE_ERRORS.note }),
    ...(decision === 'refuse' && note === null && { note: CLEARANCE_ERRORS.reason }),
    ...(decision === 'clear' && openLines(reports, given)),
  };
  if (Object.keys(errors).length > 0) {
    const errorSummary = summaryOfErrors(errors, labelsOf(reports));
    return sendProduction(request, reply.code(422), bench, polymers, { given, errors, errorSummary });
  }
  const outcome = await decideOnce(
    house,
    bench.actor,
    {
      plateId: bench.plate.id,
      revision: revisionSeen(request, bench),
      bolsterId: bench.ground.bolster.id,
      step: 'production',
      decision,
      polymers,
      accepted: acceptedOf(reports, given),
      readings: null,
      trialRunId: null,
      note,
    },
    undefined,
  );
  if (!(outcome instanceof Refusal)) {
    const what = decision === 'clear' ? 'cleared' : 'refused';
    return leadOn(reply, house, bench.actor, { what, path: bench.address });
  }
  const errorSummary = summaryOfRefusal(outcome);
  return sendProduction(request, reply.code(outcome.status), bench, polymers, {
    given,
    errors: {},
    errorSummary,
  });
}

const tickOf = ({ polymer, check }: Pick<NotClear, 'polymer' | 'check'>) => `a-${polymer}-${check}`;
const noteOf = ({ polymer, check }: Pick<NotClear, 'polymer' | 'check'>) => `n-${polymer}-${check}`;

function acceptedOf(reports: readonly PolymerReport[], given: Shown['given']): readonly AcceptedByName[] {
  return reports
    .flatMap(({ notClear }) => notClear)
    .filter((one) => given[tickOf(one)] === 'on')
    .map((one) => {
      const note = (given[noteOf(one)] ?? '').trim().slice(0, 500);
      return { check: one.check, polymer: one.polymer, note: note === '' ? null : note };
    });
}

/** Cautions that were not ticked, or ticked without a word anywhere. */
function openLines(reports: readonly PolymerReport[], given: Shown['given']) {
  const hasNote = (given.note ?? '').trim() !== '';
  const errors: Record<string, string> = {};
  for (const one of reports.flatMap(({ notClear }) => notClear)) {
    if (one.verdict === 'stop') continue;
    if (given[tickOf(one)] !== 'on') errors[tickOf(one)] = CLEARANCE_ERRORS.accept(one.polymer);
    else if (!hasNote && (given[noteOf(one)] ?? '').trim() === '') errors[noteOf(one)] = CLEARANCE_ERRORS.why;
  }
  return errors;
}

function labelsOf(reports: readonly PolymerReport[]) {
  const lines = reports.flatMap(({ notClear }) => notClear);
  return Object.fromEntries(
    lines.flatMap((one) => {
      const label = `${one.name} in ${one.polymer}`;
      return [
        [tickOf(one), label],
        [noteOf(one), label],
      ];
    }),
  );
}

async function sendProduction(
  request: FastifyRequest,
  reply: FastifyReply,
  bench: PlateOnBench,
  polymers: readonly string[],
  { given, errors, errorSummary }: Shown,
) {
  const reports = await reportsOf(bench, polymers);
  const found = reports instanceof Refusal ? [] : reports;
  const stopped = found.some(({ notClear }) => notClear.some(({ verdict }) => verdict === 'stop'));
  return sendBench(request, reply, bench, {
    step: 'production',
    template: 'clearance/production',
    errorSummary: errorSummary ?? (reports instanceof Refusal ? summaryOfRefusal(reports) : undefined),
    data: {
      action: addressUnder(bench, 'production'),
      chosen: polymers.join(' '),
      polymers: POLYMERS.map(({ symbol, name }) => ({
        id: `p-${symbol}`,
        value: symbol,
        text: symbol,
        more: name,
        checked: polymers.includes(symbol),
      })),
      none: polymers.length === 0,
      stopped,
      reports: found.map((report) => ({
        polymer: report.polymer,
        clear: report.clear,
        href: `/plates/${bench.plate.id}?polymer=${report.polymer}`,
        lines: report.notClear.map((one) => ({
          ...one,
          stop: one.verdict === 'stop',
          tick: {
            id: tickOf(one),
            checked: given[tickOf(one)] === 'on',
            error: errors[tickOf(one)],
          },
          note: { id: noteOf(one), value: given[noteOf(one)] ?? '', error: errors[noteOf(one)] },
        })),
      })),
      note: { value: given.note ?? '', error: errors.note },
    },
  });
}

/** The report of each polymer, as it is today. */
async function reportsOf(
  { house, actor, plate, revision, ground }: PlateOnBench,
  polymers: readonly string[],
): Promise<readonly PolymerReport[] | Refusal> {
  const reports: PolymerReport[] = [];
  for (const polymer of polymers) {
    const wish = { plateId: plate.id, revision: revision.revision, polymer, bolsterId: ground.bolster.id };
    const stored = await storedReport(house, wish, memberAsking(actor));
    if (stored instanceof Refusal) return stored;
    const { findings } = JSON.parse(stored.json) as Pick<CheckReport, 'findings'>;
    const notClear = findings.flatMap(({ check: name, ...found }) => {
      const check = CHECKS.find((one) => one === name);
      if (check === undefined || found.verdict === 'clear') return [];
      const { verdict, line, summary } = found;
      return [{ polymer, check, name: found.name, verdict, line, summary }];
    });
    reports.push({ polymer, notClear, clear: findings.length - notClear.length });
  }
  return reports;
}

/** The resins asked for; else those it is cleared in, or those it was checked in. */
async function polymersAsked(bench: PlateOnBench, asked: unknown): Promise<readonly string[]> {
  const wished = [asked].flat().filter((one): one is string => typeof one === 'string');
  if (wished.length > 0) return known(wished);
  if (bench.standing.polymers.length > 0) return bench.standing.polymers;
  return known(await polymersChecked(bench.house.database, bench.plate.id, bench.revision.revision));
}

/** Of these, the polymers we know, each once, in their usual order. */
function known(symbols: readonly string[]): readonly string[] {
  return POLYMERS.map(({ symbol }) => symbol).filter((symbol) => symbols.includes(symbol));
}
