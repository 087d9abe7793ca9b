import type { Verdict } from '../../engineering/finding.js';
import {
  DECISION_WORDS,
  holesText,
  judgedText,
  STEP_WORDS,
  thicknessText,
  voidText,
} from '../../words/en/clearance.js';
import { momentText } from '../../words/en/times.js';
import { checkName } from './check-name.js';
import type { Standing } from './standing.js';
import { STEPS, type Step, stepsReached } from './steps.js';
import type { Clearance } from './store.js';
import { type Since, voidBecause } from './void-because.js';

/** One step as a page shows it: whether it stands, and what was decided last about it. */
export interface StepView {
  readonly name: string;
  readonly what: string;
  readonly verdict: Verdict;
  readonly word: string;
  readonly told: string;
}

/** The three steps of a revision on a bolster. Data of `clearance-steps.hbs`. */
export function stepViews(
  standing: Standing,
  about: { readonly revision: number; readonly bolsterId: string },
  since: Since,
  timeZone: string,
): readonly StepView[] {
  return STEPS.map((step) => {
    const { name, what } = STEP_WORDS[step];
    const stands = stepsReached(step) <= stepsReached(standing.reached);
    const last = since.decisions.find(
      (made) =>
        made.step === step &&
        made.bolsterId === about.bolsterId &&
        (made.revision === about.revision || made.decision === 'clear'),
    );
    const more =
      stands && step === 'production' && standing.polymers.length > 0
        ? ` in ${standing.polymers.join(', ')}`
        : '';
    return {
      name: `${name}${more}`,
      what,
      ...stateOf(stands, step, last, since),
      told: last === undefined ? '' : toldOf(last, since, timeZone),
    };
  });
}

function stateOf(stands: boolean, step: Step, last: Clearance | undefined, since: Since) {
  if (stands) return { verdict: 'clear', word: 'cleared' } as const;
  const refusedNow =
    last?.decision === 'refuse' && last.revision === since.latestRevision && last.step === step;
  if (refusedNow && isLatestOf(last, since)) return { verdict: 'stop', word: 'refused' } as const;
  return { verdict: 'unknown', word: 'not yet' } as const;
}

/** No later decision on that bolster has put the plate forward again. */
function isLatestOf({ id, bolsterId, revision }: Clearance, { decisions }: Since): boolean {
  return decisions.find((made) => made.bolsterId === bolsterId && made.revision === revision)?.id === id;
}

function toldOf(made: Clearance, since: Since, timeZone: string): string {
  const because = voidBecause(made, since);
  const by = `${made.decidedByName}, ${momentText(made.decidedAt, timeZone)}`;
  return because === null ? by : `${by}; ${voidText(because, since.latestRevision)}`;
}

/** Every decision, latest first. Data of `clearance-history.hbs`. */
export function historyViews(since: Since, timeZone: string) {
  return since.decisions.map((made) => {
    const because = voidBecause(made, since);
    const polymers = made.reports.map(({ polymer }) => polymer).join(', ');
    return {
      what: `${DECISION_WORDS[made.decision](made.step)}${polymers === '' ? '' : `: ${polymers}`}`,
      on: `revision ${made.revision}, ${made.bolsterName} version ${made.bolsterVersion}`,
      who: made.decidedByName,
      when: momentText(made.decidedAt, timeZone),
      note: made.note ?? '',
      trial:
        made.step === 'trial' && made.decision === 'clear' && made.trialRunId === null
          ? 'No trial sheet was kept.'
          : '',
      runHref: made.trialRunId === null ? '' : `/runs/${made.trialRunId}`,
      void: because === null ? '' : voidText(because, since.latestRevision),
      readings: readingsText(made),
      cautions: made.reports.flatMap(({ polymer, cautions }) =>
        cautions.map(({ check, verdict, note }) => ({
          polymer,
          name: checkName(check),
          verdict,
          note: note ?? '',
        })),
      ),
    };
  });
}

/** What was measured, and of it what is not simply as drawn. */
function readingsText({ readings, step, decision }: Clearance): string {
  if (readings === null) return '';
  const thickness = readings.thicknessMm === null ? '' : thicknessText(readings.thicknessMm);
  const holes = holesText(readings.holes.length, step === 'fit' && decision === 'clear');
  const off = readings.judged
    .filter(({ verdict }) => verdict !== 'clear')
    .map(judgedText)
    .map(({ name, text }) => `${name}: ${text}.`);
  return [thickness, holes, ...off].filter(Boolean).join(' ');
}
