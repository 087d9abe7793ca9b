import type { HouseReasonCode, Reason } from '../../reasons.js';
import type { ReasonWords } from './drawing-reasons.js';
import { PRE_USE_WORDS } from './runs.js';
import { nameOfStep } from './trial-steps.js';

function after({ figures }: Reason, name: string, before: string): string {
  const value = figures?.[name];
  return value === undefined || value === '' ? '' : `${before}${value}`;
}

/** A figure of the reason, or what stands for one that is not told. */
function figureOf({ figures }: Reason, name: string, otherwise: string): string {
  const value = figures?.[name];
  return value === undefined || value === '' ? otherwise : String(value);
}

/** ": Guards and interlocks; Hoses", of the lines by their names. */
function lineNames({ figures }: Reason): string {
  const lines = String(figures?.lines ?? '').split(', ');
  const names = Object.entries(PRE_USE_WORDS)
    .filter(([line]) => lines.includes(line))
    .map(([, { name }]) => name);
  return names.length === 0 ? '' : `: ${names.join('; ')}`;
}

/** Sentences for what speaks against opening, leading and closing a run, and about near misses. */
export const RUN_REASONS = {
  'pre-use-missing': (reason) => ({
    message: `The pre-use check is not complete${lineNames(reason)}.`,
    fix: 'Walk round the press, look and try, and tick each line yourself. What is not in order is not ticked: leave the press off and tell a steward.',
  }),
  'within-call-missing': () => ({
    message: 'Nobody is named who is within call.',
    fix: 'Find somebody who would hear you, knows the emergency stop and agrees to stay, and name them. Nobody works the press alone.',
  }),
  'within-call-oneself': () => ({
    message: 'You have named yourself as the one within call.',
    fix: 'Name another person who would hear you call.',
  }),
  'run-outside-booking': () => ({
    message: 'It is not the time of this booking.',
    fix: 'Open it from ten minutes before the booking begins until it ends; for another time, move the booking.',
  }),
  'run-booking-needs-attention': () => ({
    message: 'The booking no longer has all that it was made with.',
    fix: 'See on the booking what it lost; when that is put right, it can be opened.',
  }),
  'run-not-cleared': (reason) => ({
    message: `On the bolster that is mounted, the plate is not cleared for this${after(reason, 'step', ': it needs the step ')}${after(reason, 'polymer', ' in ')}.`,
    fix: 'Ask a steward to clear it, or to mount the bolster that it is cleared on.',
  }),
  'run-open-already': (reason) => ({
    message: `A run is open on this press already${after(reason, 'who', ', opened by ')}.`,
    fix: 'Whoever opened it, or a steward, closes it first.',
  }),
  'trial-unattended': () => ({
    message: 'A trial is attended by a steward who is not the one who booked it.',
    fix: 'Ask a steward to stand by, and choose their name.',
  }),
  'run-closed': () => ({
    message: 'The run is closed; nothing more is kept of it.',
    fix: 'Open another run of the booking while its time lasts.',
  }),
  'run-no-trial': () => ({
    message: 'This run is no trial: it has no steps.',
    fix: 'Steps are kept of the run of a trial booking.',
  }),
  'run-says-why': () => ({
    message: 'A run that did not end well says why.',
    fix: 'Say in a few words what stopped it, or what has to be reworked.',
  }),
  'trial-unfinished': (reason) => ({
    message: `The trial is not through: ${nameOfStep(String(reason.figures?.step ?? '')) || 'a step'} is still to come.`,
    fix: 'Go on with the steps, or close it as needing rework or as stopped.',
  }),
  'trial-stopped': () => ({
    message: 'The trial was stopped at a step; nothing more is tried in it.',
    fix: 'Close the run as stopped or as needing rework; after that another can be opened.',
  }),
  'trial-nothing-before': () => ({
    message: 'There is no step before the first.',
    fix: 'Do this one again, go on, or stop.',
  }),
  'trial-stop-says-why': () => ({
    message: 'A step that stops the trial says what was seen.',
    fix: 'Tick what you saw, or say it in a few words.',
  }),
  'trial-seen-nothing': () => ({
    message: 'Nothing was seen at this step.',
    fix: 'Tick what you saw before going on.',
  }),
  'trial-goes-no-further': (reason) => ({
    message: `The plate does not close as it should${after(reason, 'signs', ': ')}.`,
    fix: 'Stop the trial, or put it right with the press off, isolated and locked, and close it gently once more.',
  }),
  'trial-on-against-sign': (reason) => ({
    message: `What was seen speaks against going on${after(reason, 'signs', ': ')}.`,
    fix: 'Do the step again, go back or stop; or say in a few words why it is right to go on.',
  }),
  'trial-ended-badly': (reason) => ({
    message: `The last look does not say that it runs well${after(reason, 'signs', ': ')}.`,
    fix: 'Close the trial as needing rework, or go on with it until it runs without.',
  }),
  'set-beyond-press': (reason) => ({
    message: `This press has at most ${figureOf(reason, 'most', 'less')}: ${figureOf(reason, 'value', 'so much')} cannot have been set.`,
    fix: 'Look at the setting again, and write down what the press shows.',
  }),
  'barrel-other-family': (reason) => ({
    message: `${figureOf(reason, 'polymer', 'This resin')} must not follow ${figureOf(reason, 'before', 'what was run')} on this press: traces of one break the other down, with toxic gas and pressure in the barrel.`,
    fix: 'Purging does not clear it. Ask the stewards: screw and barrel are stripped and cleaned first, by the machine\u2019s manual.',
  }),
  'press-run-open': () => ({
    message: 'A run is open on this press.',
    fix: 'Close the run first; whoever opened it, or a steward, can.',
  }),
  'booking-run-open': () => ({
    message: 'A run of this booking is open.',
    fix: 'Close the run first; then the booking can be moved or cancelled.',
  }),
  'near-miss-answered': () => ({
    message: 'Somebody has answered this already.',
    fix: 'Load the page again and read what was done.',
  }),
} satisfies { readonly [code in HouseReasonCode]?: (reason: Reason) => ReasonWords };
