import { CHECKS, type CheckName, type Verdict } from '../../engineering/finding.js';
import { type Reason, Refusal } from '../../reasons.js';
import type { StoredReport } from '../store.js';
import type { TrialRun } from './clearance-house.js';
import type { DecisionWanted, Prepared } from './decide.js';
import { reasonsOfReadings } from './judged.js';
import { standingAfter } from './standing.js';
import { nextStep, type Reached, stepsReached } from './steps.js';
import type { AcceptedCaution, AcceptedReport, Clearance, ClearedThing } from './store.js';

/** The report of today that a polymer would be cleared on. */
export interface ReportAsked {
  readonly polymer: string;
  readonly report: StoredReport;
}

interface Judged {
  readonly wanted: DecisionWanted;
  readonly thing: ClearedThing;
  readonly latest: number;
  /** What was decided about this revision on this bolster before, latest first. */
  readonly decisions: readonly Clearance[];
  readonly reports: readonly ReportAsked[];
  readonly prepared: Prepared;
}

/** The reports a decision stands on, or every reason against it at once. */
export function reasonsAgainst(judged: Judged): readonly AcceptedReport[] | Refusal {
  const { wanted, latest } = judged;
  if (wanted.revision !== latest)
    return new Refusal([{ code: 'revision-not-latest', field: 'revision', figures: { latest } }]);
  const accepted = judged.reports.map((asked) => accept(asked, wanted));
  const [first, ...others] = [
    ...byOrder(judged),
    ...(wanted.decision !== 'clear' ? saysWhy(judged) : ofStep(judged, accepted)),
  ];
  return first === undefined ? accepted.map(({ report }) => report) : new Refusal([first, ...others]);
}

function byOrder({ wanted, decisions, reports }: Judged): readonly Reason[] {
  const { step, decision } = wanted;
  const standing = standingAfter(decisions);
  const { reached } = standing;
  const ahead = stepsReached(step) - stepsReached(reached);
  if (decision === 'void')
    return ahead > 0 ? [{ code: 'clearance-nothing-to-take-back', field: 'step' }] : [];
  if (ahead > 1) return [outOfOrder(reached)];
  if (decision === 'refuse' || ahead === 1) return [];
  const further =
    step === 'production' &&
    reports.some(({ polymer, report }) =>
      standing.accepted.every((one) => one.polymer !== polymer || one.reportId !== report.id),
    );
  if (further || (step === 'production' && reports.length === 0)) return [];
  const made = decisions.find((one) => one.decision === 'clear' && one.step === step);
  return [
    {
      code: 'clearance-stands',
      field: 'step',
      figures: { step, ...(made !== undefined && { by: made.decidedByName }) },
    },
  ];
}

function outOfOrder(reached: Reached): Reason {
  return {
    code: 'clearance-out-of-order',
    field: 'step',
    figures: { reached, next: nextStep(reached) ?? '' },
  };
}

/** A plate that is refused may measure as it will, but not in inches: whoever reads it later would be misled. */
function saysWhy({ wanted, prepared: { fit } }: Judged): readonly Reason[] {
  const inInches = (fit?.judged ?? []).filter(({ situation }) => situation === 'in-inches');
  const figures = { what: 'the owner has to know what is wrong with the plate' };
  const mute: readonly Reason[] =
    wanted.note === null ? [{ code: 'note-missing', field: 'note', figures }] : [];
  return [...mute, ...reasonsOfReadings(inInches)];
}

function ofStep(judged: Judged, accepted: readonly ReportJudged[]): readonly Reason[] {
  switch (judged.wanted.step) {
    case 'fit':
      return ofFit(judged);
    case 'trial':
      return ofTrial(judged);
    case 'production':
      return ofProduction(judged, accepted);
  }
}

function ofFit({ wanted: { readings, note }, prepared: { fit } }: Judged): readonly Reason[] {
  if (readings === null || readings.thicknessMm === null)
    return [{ code: 'readings-missing', field: 'measuredThicknessMm' }];
  const reasons = [...reasonsOfReadings(fit?.judged ?? [])];
  if (readings.burrsRemoved === false)
    reasons.push({
      code: 'fit-unfinished',
      field: 'readings.burrsRemoved',
      figures: { what: 'there are burrs on it' },
    });
  if (readings.headsBelowFace === false)
    reasons.push({
      code: 'fit-unfinished',
      field: 'readings.headsBelowFace',
      figures: { what: 'screw heads stand above its face' },
    });
  const doubtful = fit?.judged.some(({ verdict }) => verdict === 'caution') === true;
  if (doubtful && note === null)
    reasons.push({
      code: 'note-missing',
      field: 'note',
      figures: { what: 'readings are off by more than usual' },
    });
  return reasons;
}

function ofTrial({ wanted, thing, decisions, prepared: { trialRuns } }: Judged): readonly Reason[] {
  const { trialRunId, note } = wanted;
  if (trialRunId !== null) {
    const run = trialsOf(trialRuns, thing, decisions).find(({ id }) => id === trialRunId);
    if (run === undefined)
      return [{ code: 'not-found', field: 'trialRunId', figures: { what: 'trial run of this revision' } }];
    return run.outcome === 'runs-well' ? [] : [{ code: 'clearance-trial-not-well', field: 'trialRunId' }];
  }
  const figures = { what: 'no trial sheet was kept, so the note has to tell what was set and seen' };
  return note === null ? [{ code: 'note-missing', field: 'note', figures }] : [];
}

/**
 * The trials that were of this very revision on this version of the bolster, of metal as it was measured last: what
 * was tried before a rework was another plate.
 *
 * @param decisions about it, latest first
 */
export function trialsOf(
  runs: readonly TrialRun[],
  thing: ClearedThing,
  decisions: readonly Pick<Clearance, 'step' | 'decision' | 'decidedAt'>[],
): readonly TrialRun[] {
  const fit = decisions.find(({ step, decision }) => step === 'fit' && decision === 'clear');
  if (fit === undefined) return [];
  return runs.filter((run) => isSameThing(run, thing) && run.openedAt >= fit.decidedAt);
}

function isSameThing(run: ClearedThing, thing: ClearedThing): boolean {
  return (
    run.plateId === thing.plateId &&
    run.revision === thing.revision &&
    run.bolsterId === thing.bolsterId &&
    run.bolsterVersion === thing.bolsterVersion
  );
}

function ofProduction({ wanted }: Judged, accepted: readonly ReportJudged[]): readonly Reason[] {
  if (wanted.polymers.length === 0) return [{ code: 'polymers-missing', field: 'polymers' }];
  return accepted.flatMap(({ report: { polymer, cautions }, stops, open }) => {
    const named = (checks: readonly string[]) => ({ polymer, checks: checks.join(', ') });
    const reasons: Reason[] = [];
    if (stops.length > 0) reasons.push({ code: 'report-has-stop', field: 'polymers', figures: named(stops) });
    if (open.length > 0)
      reasons.push({ code: 'caution-not-accepted', field: 'acceptedCautions', figures: named(open) });
    const mute = cautions.filter(({ note }) => note === null).map(({ check }) => check);
    if (mute.length > 0 && wanted.note === null)
      reasons.push({
        code: 'note-missing',
        field: 'note',
        figures: { what: 'a caution is accepted with a note' },
      });
    return reasons;
  });
}

interface ReportJudged {
  readonly report: AcceptedReport;
  /** Checks that say stop: nobody accepts those. */
  readonly stops: readonly CheckName[];
  /** Checks that are not clear and were not accepted. */
  readonly open: readonly CheckName[];
}

interface StoredFinding {
  readonly check: string;
  readonly verdict: Verdict;
}

/** What a stored report says, line by line. */
export function findingsOf(json: string): readonly StoredFinding[] {
  return (JSON.parse(json) as { readonly findings: readonly StoredFinding[] }).findings;
}

/** Holds the findings of a report against what was accepted by name. */
function accept({ polymer, report }: ReportAsked, { accepted }: DecisionWanted): ReportJudged {
  const stops: CheckName[] = [];
  const open: CheckName[] = [];
  const cautions: AcceptedCaution[] = [];
  for (const { check: name, verdict } of findingsOf(report.json)) {
    const check = CHECKS.find((known) => known === name);
    if (check === undefined || verdict === 'clear') continue;
    const named = accepted.find(
      (one) => one.check === check && (one.polymer === null || one.polymer === polymer),
    );
    if (verdict === 'stop') stops.push(check);
    else if (named === undefined) open.push(check);
    else cautions.push({ check, verdict, note: named.note });
  }
  return { report: { polymer, reportId: report.id, cautions }, stops, open };
}
