import type { Verdict } from '../../engineering/finding.js';
import type { JudgedReading, ReadingSituation } from '../../engineering/fit/judge-readings.js';
import type { Decision, Reached, Step } from '../../plates/clearance/steps.js';
import type { VoidBecause } from '../../plates/clearance/void-because.js';
import type { Reason } from '../../reasons.js';
import { numberText } from './numbers.js';
import { CORNER_NAMES, nameOfReading } from './readings.js';
import { wordReason } from './reasons.js';

/** What a step is called, and what it is. */
export const STEP_WORDS: { readonly [step in Step]: { readonly name: string; readonly what: string } } = {
  fit: {
    name: 'Fit',
    what: 'Measured on the bench: thickness at four corners, holes and sinks, no burrs, screw heads below the face.',
  },
  trial: {
    name: 'Trial',
    what: 'An attended first run: closed at low pressure, short shots stepped up without hold, looked at for flash.',
  },
  production: {
    name: 'Production',
    what: 'Cleared resin by resin, every caution of the plate check accepted by its name.',
  },
};

/** How a decision is told in a list. */
export const DECISION_WORDS: { readonly [decision in Decision]: (step: Step) => string } = {
  clear: (step) => `Cleared for ${step}`,
  refuse: (step) => `Refused for ${step}`,
  rework: () => 'Reworked: back to be measured',
  void: (step) => `Taken back from ${step} on`,
};

/** Why what was cleared stands no longer. */
export function voidText(because: VoidBecause, latestRevision: number): string {
  switch (because) {
    case 'revised':
      return `void: revision ${latestRevision} followed it`;
    case 'bolster-changed':
      return 'void: the bolster has been changed since';
    case 'refused':
      return 'void: it was refused later';
    case 'reworked':
      return 'void: its metal was changed later';
    case 'taken-back':
      return 'void: a steward took it back';
  }
}

/** What comes next for a plate that was refused, and for one that is no metal yet. */
export const REFUSED_NEXT = 'Its owner puts it right next, and says so.';
export const NOT_CUT_NEXT = 'It is measured once its owner says that it is cut.';

/** What comes next, for whoever looks at the plate. */
export const NEXT_WORDS: { readonly [reached in Reached]: string } = {
  none: 'A steward measures it next.',
  fit: 'Its trial is next: an attended first run. Only a trial can be booked before it.',
  trial: 'A steward signs it for production next.',
  production: 'It can be booked for production in the resins it is cleared for.',
};

const SITUATIONS: { readonly [situation in ReadingSituation]: (one: JudgedReading) => string } = {
  agrees: ({ drawnMm }) => `as drawn, ${numberText(drawnMm ?? 0)} mm`,
  differs: (one) => `${offText(one)} the drawing`,
  contradicts: (one) => `${offText(one)} the drawing: another plate than was checked`,
  'in-inches': ({ meantMm }) => `in inches; ${numberText(meantMm ?? 0)} mm`,
  'not-drawn': () => 'not in the drawing',
  inside: (one) => limitText(one),
  beyond: (one) => `${limitText(one)} needed`,
  'far-beyond': (one) => `${limitText(one)}, whatever the resin`,
};

function offText({ figureMm, drawnMm }: JudgedReading): string {
  const offMm = Math.round((figureMm - (drawnMm ?? 0)) * 1000) / 1000;
  return `${lengthText(Math.abs(offMm))} ${offMm < 0 ? 'under' : 'over'}`;
}

function limitText({ allowed, limitMm }: JudgedReading): string {
  return `${allowed === 'at-least' ? 'at least' : 'at most'} ${lengthText(limitMm)}`;
}

/** A measured length: hundredths count, and thousandths where they were read. */
function lengthText(mm: number): string {
  return `${(Math.round(mm * 1000) / 1000).toLocaleString('en-GB', { minimumFractionDigits: 2, maximumFractionDigits: 3 })} mm`;
}

/** How many holes were measured; that none was is said of a fit that was cleared. */
export function holesText(count: number, cleared: boolean): string {
  if (count > 0) return `Holes measured: ${count}.`;
  return cleared ? 'No hole was measured.' : '';
}

/** A judged reading as a line of a list. */
export function judgedText(one: JudgedReading): { readonly name: string; readonly text: string } {
  const corner = /^thicknessMm\.(\d)$/.exec(one.field)?.[1];
  const name = nameOfReading(one.check, one.hole ?? undefined, corner);
  return { name, text: `${lengthText(one.figureMm)}, ${SITUATIONS[one.situation](one)}` };
}

/** What the measuring sheet says. */
export const MEASURE_WORDS = {
  plan: (holes: number) =>
    `The plate seen on its face. Four crosses mark where its thickness is read, from the top left on clockwise; ` +
    `${holes === 1 ? 'its one bolt hole is' : `its ${holes} bolt holes are`} numbered.`,
  corner: (place: number) => `Thickness, ${CORNER_NAMES[place] ?? ''}`,
  drawn: (mm: number) => `drawn ${numberText(mm)}`,
  holeDiameter: (hole: number) => `Hole ${hole}, diameter`,
  sinkDiameter: (hole: number) => `Sink ${hole}, diameter`,
  sinkDepth: (hole: number) => `Sink ${hole}, depth`,
  feedDiameter: 'Feed pocket, diameter',
  feedDepth: 'Feed pocket, depth',
  burrs: 'Burrs removed, all round and in every hole',
  heads: 'Screw heads below the face, tried with the screws it will have',
  notRead: 'Give a length in mm, for instance 16.02.',
  missing: 'Read it and give it in mm.',
  tick: 'Tick it when it is so; what is not done keeps the plate from the press.',
  noteHint: 'needed where a reading is off by more than usual, and to refuse',
} as const;

/** What is wrong with a reading, short enough to stand at its cell; the summary tells the whole of it. */
export function readingError(reason: Reason): string {
  const { meantMm, offMm, bandMm, allowed, limitMm } = reason.figures ?? {};
  switch (reason.code) {
    case 'reading-in-inches':
      return `Did you mean ${meantMm} mm?`;
    case 'reading-contradicts-drawing':
      return `${offMm} mm off the drawing; at most ${bandMm} mm may be.`;
    case 'reading-beyond-limit':
      return `It has to be ${allowed} ${limitMm} mm.`;
    default:
      return wordReason(reason).message;
  }
}

export const CLEARANCE_DONE: { readonly [what: string]: { readonly word: string; readonly text: string } } = {
  cleared: { word: 'cleared', text: 'The step is cleared, and the plate’s owner is told.' },
  refused: { word: 'refused', text: 'The plate is refused, and its owner is told why and what to do.' },
  'taken-back': { word: 'taken back', text: 'The clearance is void, and the plate’s owner is told why.' },
  reworked: { word: 'reworked', text: 'The plate goes back to be measured.' },
};

/** Of a line that says worse today than what was accepted. */
export function worseText(polymer: string, accepted: Verdict): string {
  return `In ${polymer} this was ${accepted} when the plate was cleared and is worse now: it is looked at and cleared anew before the next booking.`;
}

const TRIAL_OUTCOMES: { readonly [outcome: string]: string } = {
  'runs-well': 'it was closed as running well',
  'needs-rework': 'it was closed as needing rework',
  stopped: 'it was stopped',
};

/** A trial that was led, by its resin and how it ended. */
export function trialText(polymer: string, outcome: string): string {
  return `in ${polymer}; ${TRIAL_OUTCOMES[outcome] ?? outcome}`;
}

/** The four readings of a fit, and what they are parallel to. */
export function thicknessText(thicknessMm: readonly number[]): string {
  const parallel = Math.max(...thicknessMm) - Math.min(...thicknessMm);
  const read = thicknessMm.map((mm) => lengthText(mm).replace(' mm', '')).join(', ');
  return `Thickness ${read} mm; thickest less thinnest ${lengthText(parallel)}.`;
}

export const CLEARANCE_ERRORS = {
  reason: 'Say what was changed or why, in a few words.',
  note: 'Write a note of at most 1000 characters.',
  polymers: 'Pick at least one resin.',
  trial: 'Pick the trial run, or say in the note what was set and seen.',
  why: 'Say why, here or in the note below.',
  accept: (polymer: string) => `Accept it for ${polymer}, or refuse the plate.`,
} as const;
