import type { Outcome } from '../../runs/outcomes.js';
import type { PreUseLine } from '../../runs/pre-use.js';

interface Line {
  readonly name: string;
  /** What to look at or try. */
  readonly how: string;
}

/** The pre-use check, line by line. The press's manual and the house's own check come first where they ask for more. */
export const PRE_USE_WORDS: { readonly [line in PreUseLine]: Line } = {
  'area-clear': {
    name: 'The area is clear',
    how: 'Floor dry and swept, nothing on the tie bars or the plates, way to the emergency stop, isolator and water free, extraction on.',
  },
  guards: {
    name: 'Guards and interlocks work',
    how: 'Front, rear, top and purge guard in place and whole. Tried: with a guard open the press does not close, and opening it stops what moves.',
  },
  'emergency-stop': {
    name: 'The emergency stop stops it',
    how: 'Pressed and seen to stop, let go, and nothing starts by itself.',
  },
  hoses: {
    name: 'Hoses and cables are sound',
    how: 'Oil, water and air: no bulge, chafe or loose end; heater cables whole. Looked at, never felt for a jet with the hand.',
  },
  'no-leaks': {
    name: 'Nothing leaks',
    how: 'No oil on the floor or the ram, no water at the plate, no melt at the nozzle or between nozzle and sprue.',
  },
};

export const OUTCOME_WORDS: { readonly [outcome in Outcome]: Line } = {
  'runs-well': {
    name: 'Runs well',
    how: 'Every step is through; the plate can be put to a steward for production.',
  },
  'needs-rework': {
    name: 'Needs rework',
    how: 'The metal has to be changed before it is tried again: say where and what.',
  },
  finished: { name: 'Finished', how: 'What was booked was run, and the press is left clean and safe.' },
  stopped: { name: 'Stopped', how: 'It was broken off: say why, and what state the press is left in.' },
};

export const RUN_KIND_WORDS = { trial: 'trial', production: 'production' } as const;

export const STILL_OPEN = 'open';

/** What stands over the fields of the forms whose messages do not say which they mean. */
export const RUN_LABELS = {
  preUse: 'Pre-use check',
  withinCall: 'Within call',
  withinCallName: 'Name',
  attendedBy: 'Attended by',
  outcome: 'Outcome',
  note: 'Note',
} as const;

export const RUN_FORM_ERRORS = {
  preUse: 'Tick the lines of the check on this page.',
  withinCallId: 'Choose a member from the list, or write a name.',
  withinCallBoth: 'Choose a member or write a name, not both.',
  withinCallName: 'Give a name of at most 80 characters.',
  attendedBy: 'Choose a steward from the list.',
  outcome: 'Choose how it ended.',
  note: 'Say it in at most 1000 characters.',
  went: 'Choose with one of the buttons where to go from here.',
  seen: 'Tick what stands on this page.',
  photograph: 'Choose a photograph.',
} as const;

/** The cautions of a run, in a line each, for a sheet that hangs at the press. */
export const RUN_CAUTIONS = [
  'Melt, nozzle, barrel and purge burn at once, and melt can spray from nozzle and parting line: face shield, heat-proof gloves, long sleeves; face and hands out of its way.',
  'Closing plates crush. Guards shut and never bridged; hands out before anything moves; off, locked and cooled before work inside.',
  'Fumes: extraction on; eyes or throat sting, heats down and out. Acetal and PVC never follow one another.',
  'Eyes and ears protected; two people or a trolley for what is heavy.',
  'Never alone: somebody within call until the press is off. Under-eighteens never operate.',
  'The machine’s manual, local codes and a competent person come first. This sheet advises; it never says that a machine is safe.',
] as const;

/** What is told once above a run's page. */
export const RUN_DONE = {
  opened: { word: 'opened', text: 'The run is open. Close it when the press is off, or handed on.' },
  step: { word: 'kept', text: 'What was set and seen is kept.' },
  closed: { word: 'closed', text: 'The run is closed.' },
} as const;

/** The booking whose time it is, on the first page. */
export const OPEN_NOW_WORDS = {
  due: (plate: string) => `Your time at the press: ${plate}`,
  running: (plate: string) => `Your run is open: ${plate}`,
  until: (clock: string) => `until ${clock}`,
  open: 'Open now',
  goOn: 'Go on',
} as const;

/** First line of the lists one chooses from. */
export const CHOOSE = { member: 'nobody of these', steward: 'choose a steward' } as const;

/** The sheet that opens a run. */
export const OPENING_WORDS = {
  run: 'Open the run',
  trial: 'Open the trial',
  isOpen: 'A run of this booking is open.',
  notNow: (status: 'booked' | 'needs-attention' | 'cancelled', from: string, until: string): string => {
    if (status === 'cancelled') return 'The booking is cancelled.';
    if (status === 'needs-attention') return 'The booking needs attention first: see what it has lost.';
    return `It can be opened from ${from} until ${until} on its day.`;
  },
} as const;
