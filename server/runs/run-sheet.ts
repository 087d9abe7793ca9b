import type { TrialStep } from '../engineering/run/trial-steps.js';
import { numberText } from '../words/en/numbers.js';
import { OUTCOME_WORDS, PRE_USE_WORDS, RUN_KIND_WORDS, STILL_OPEN } from '../words/en/runs.js';
import { clockText, momentText } from '../words/en/times.js';
import {
  nameOfStep,
  OBSERVATION_WORDS,
  SET_LABELS,
  settingLines,
  stepName,
  stepWords,
  WENT_WORDS,
} from '../words/en/trial-steps.js';
import type { KeptStep, Run, SetAs } from './store.js';
import { OBSERVATIONS } from './trial/observations.js';

/** A run as one line of a list. */
export function runRow(run: Run, timeZone: string) {
  const { outcome } = run;
  return {
    href: `/runs/${run.id}`,
    when: momentText(run.openedAt, timeZone),
    what: `${run.plateName}, revision ${run.revision}`,
    polymer: run.polymer,
    kind: RUN_KIND_WORDS[run.kind],
    who: run.openedByName,
    outcome: outcome === null ? STILL_OPEN : OUTCOME_WORDS[outcome].name.toLowerCase(),
    isOpen: outcome === null,
  };
}

/** What a run is, in pairs. */
export function runFacts(run: Run, timeZone: string) {
  return [
    { label: 'Plate', value: `${run.plateName}, revision ${run.revision}` },
    { label: 'Resin', value: run.polymer },
    { label: 'Bolster', value: `${run.bolsterName}, version ${run.bolsterVersion}` },
    { label: 'Booked by', value: run.displayName },
    { label: 'Opened', value: `${momentText(run.openedAt, timeZone)}, by ${run.openedByName}` },
    {
      label: 'Pre-use check',
      value: run.preUse.map((line) => PRE_USE_WORDS[line].name.toLowerCase()).join('; '),
    },
    { label: 'Within call', value: run.withinCallName, strong: run.closedAt === null },
    ...(run.attendedByName === null
      ? []
      : [{ label: 'Attended by', value: run.attendedByName, strong: run.closedAt === null }]),
    ...(run.closedAt === null || run.outcome === null
      ? []
      : [
          { label: 'Closed', value: `${momentText(run.closedAt, timeZone)}, by ${run.closedByName ?? ''}` },
          { label: 'Outcome', value: OUTCOME_WORDS[run.outcome].name, strong: true },
          ...(run.outcomeNote === null ? [] : [{ label: 'Note', value: run.outcomeNote }]),
        ]),
  ];
}

/** A step that was kept, as a row. */
export function keptRow(kept: KeptStep, timeZone: string) {
  return {
    name: nameOfStep(kept.step) || kept.step,
    time: clockText(kept.keptAt, timeZone),
    set: setText(kept.setAs),
    seen: [
      ...kept.seen.map((one) => OBSERVATION_WORDS[one] ?? one),
      ...(kept.note === null ? [] : [kept.note]),
    ].join('; '),
    went: WENT_WORDS[kept.went].past,
    by: kept.keptByName,
    ...(kept.photographId !== null && { photograph: `/photographs/${kept.photographId}` }),
  };
}

/** `9.9 mm, 122 kN, 21 bar, 3 s`. */
function setText(setAs: SetAs): string {
  return Object.entries(SET_LABELS)
    .flatMap(([name, { unit }]) => {
      const value = setAs[name as keyof SetAs];
      return value === undefined ? [] : `${numberText(value, Number.isInteger(value) ? 0 : 1)} ${unit}`;
    })
    .join(', ');
}

/** A step of the plan, with its words. */
export function plannedStep(step: TrialStep) {
  return {
    name: stepName(step),
    set: settingLines(step.set),
    asNeeded: step.asNeeded,
    ...stepWords(step.kind),
  };
}

/** The step that is due, as a form: boxes filled with what was set last, or else with the estimate. */
export function dueStep(step: TrialStep, last: SetAs | undefined) {
  return {
    ...plannedStep(step),
    code: step.name,
    fields: settable(step).map((name) => {
      const { label, unit } = SET_LABELS[name];
      const value = last?.[name] ?? (name === 'holdS' ? undefined : step.set[name]);
      return {
        id: name,
        label,
        unit,
        value: typeof value === 'number' ? numberText(value, Number.isInteger(value) ? 0 : 1) : '',
      };
    }),
    observations: OBSERVATIONS[step.kind].map((one) => ({
      id: `seen-${one}`,
      name: `seen-${one}`,
      value: 'on',
      text: OBSERVATION_WORDS[one],
    })),
  };
}

/** What can be set at a step; the clamp's force always where something is injected. */
function settable({ kind, set }: TrialStep): readonly (keyof SetAs)[] {
  if (kind === 'close-gently') return [];
  const hold = set.holdGaugeBar === null ? 'holdMpa' : 'holdGaugeBar';
  if (set.holdMpa === null || set.holdMpa === 0) return ['screwMm', 'clampKn'];
  return ['screwMm', 'clampKn', hold, 'holdS'];
}
