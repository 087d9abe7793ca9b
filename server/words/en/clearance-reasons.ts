import { CHECKS } from '../../engineering/finding.js';
import type { HouseReasonCode, Reason } from '../../reasons.js';
import type { ReasonWords } from './drawing-reasons.js';
import { nameOfCheck } from './findings.js';
import { nameOfReading } from './readings.js';

/** A figure as text, or what stands where there is none. */
function figure({ figures }: Reason, name: string, otherwise: string): string {
  return String(figures?.[name] ?? otherwise);
}

/** `12.3 mm`, of a figure that is a length. */
function mm(reason: Reason, name: string, otherwise = 'something else'): string {
  const value = reason.figures?.[name];
  return value === undefined ? otherwise : `${value} mm`;
}

/** "Thickness at the top left corner", "Hole 3: depth of the sink". */
function readingName({ figures = {} }: Reason): string {
  return nameOfReading(String(figures.check ?? ''), figures.hole, figures.corner);
}

/** ": Walls, Daylight", of the checks by their names. */
function checkNames(reason: Reason): string {
  const names = figure(reason, 'checks', '')
    .split(', ')
    .flatMap((name) => CHECKS.filter((check) => check === name))
    .map(nameOfCheck);
  return names.length === 0 ? '' : `: ${names.join(', ')}`;
}

type ClearanceReason = Extract<
  HouseReasonCode,
  | `clearance-${string}`
  | `reading-${string}`
  | 'readings-missing'
  | 'fit-unfinished'
  | 'polymers-missing'
  | 'caution-not-accepted'
  | 'note-missing'
>;

/** Why a plate is not cleared. */
export const CLEARANCE_REASONS = {
  'clearance-own-plate': () => ({
    message: 'Nobody measures or clears a plate of their own, or a revision that they handed in themselves.',
    fix: 'Ask another steward.',
  }),
  'clearance-out-of-order': (reason) => {
    const reached = figure(reason, 'reached', 'none');
    const next = figure(reason, 'next', '');
    return {
      message:
        reached === 'none'
          ? 'The steps go in order: fit, trial, production. None of them stands for this plate on this bolster.'
          : `The steps go in order: fit, trial, production. This plate has reached ${reached} on this bolster.`,
      fix: next === '' ? 'Look at what stands.' : `Decide about ${next} next.`,
    };
  },
  'clearance-trial-not-well': () => ({
    message: 'That trial was not closed as running well, so nothing is cleared by it.',
    fix: 'Refuse the plate by what was seen, or lead another trial.',
  }),
  'clearance-stands': (reason) => ({
    message: `It is cleared for ${figure(reason, 'step', 'this step')} already${reason.figures?.by === undefined ? '' : `, by ${reason.figures.by}`}.`,
    fix: 'Look at what stands. To clear it anew, take it back first, or send it to rework.',
  }),
  'clearance-nothing-to-take-back': () => ({
    message: 'Nothing stands of this revision on this bolster that could be taken back.',
    fix: 'Load the plate again and look at what was decided.',
  }),
  'readings-missing': () => ({
    message: 'To clear the fit, the plate’s thickness is measured at its four corners.',
    fix: 'Measure near each corner and give all four readings in mm.',
  }),
  'reading-in-inches': (reason) => ({
    message: `${readingName(reason)} reads ${figure(reason, 'given', 'what')} and looks like inches.`,
    fix: `Give it in mm: did you mean ${mm(reason, 'meantMm', 'another figure')}? Type that.`,
  }),
  'reading-contradicts-drawing': (reason) => ({
    message: `${readingName(reason)} is ${mm(reason, 'givenMm')}, and the drawing says ${mm(reason, 'drawnMm')}: ${mm(reason, 'offMm', 'too much')} off, where at most ${mm(reason, 'bandMm', 'a little')} is still taken for the same plate.`,
    fix: 'Measure again. If it is so, refuse the plate, and have it drawn as it is and submitted as a new revision.',
  }),
  'reading-beyond-limit': (reason) => ({
    message: `${readingName(reason)} is ${mm(reason, 'figureMm')}, and has to be ${figure(reason, 'allowed', 'within')} ${mm(reason, 'limitMm', 'its limit')}.`,
    fix: 'Refuse the plate with its readings, so that its owner can put it right.',
  }),
  'reading-hole-not-drawn': (reason) => ({
    message: `There is no hole ${figure(reason, 'hole', 'of this number')}: the drawing has ${figure(reason, 'limitMm', 'fewer')}.`,
    fix: 'Number the holes as the measuring sheet does. A hole that is not drawn needs a new revision.',
  }),
  'fit-unfinished': (reason) => ({
    message: `It is not ready to be screwed on: ${figure(reason, 'what', 'something is left to do')}.`,
    fix: 'Have it put right before you clear the fit, or refuse the plate.',
  }),
  'polymers-missing': () => ({
    message: 'A plate is cleared for production in named polymers.',
    fix: 'Name at least one, for instance PP.',
  }),
  'caution-not-accepted': (reason) => ({
    message: `The check is not clear in every line in ${figure(reason, 'polymer', 'this polymer')}, and not all of that was accepted${checkNames(reason)}.`,
    fix: 'Read each of them, and accept it by its name or refuse the plate.',
  }),
  'note-missing': (reason) => ({
    message: `A note is missing${reason.figures?.what === undefined ? '' : `: ${reason.figures.what}`}.`,
    fix: 'Write what the plate’s owner and other stewards need to know.',
  }),
} satisfies { readonly [code in ClearanceReason]: (reason: Reason) => ReasonWords };
