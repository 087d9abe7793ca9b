import type { PlateFacts } from '../../engineering/press-facts.js';
import type { TrialSetting, TrialStep, TrialStepKind } from '../../engineering/run/trial-steps.js';
import type { Observation } from '../../runs/trial/observations.js';
import type { Went } from '../../runs/trial/where.js';
import { numberText } from './numbers.js';
import { screwsText } from './screws.js';

interface StepWords {
  readonly name: string;
  /** What is done. */
  readonly does: string;
  /** What to look for. */
  readonly look: string;
  /** When to stop. */
  readonly stop: string;
}

const STEPS: { readonly [kind in TrialStepKind]: StepWords } = {
  'close-gently': {
    name: 'Close gently, without melt',
    does: 'Nozzle back. Mould protection at its lowest pressure and speed; close, open, and look at both faces from outside the guard.',
    look: 'The faces meet all round at the same moment; heads below the face; no gap, nothing between, no sound of metal striking.',
    stop: 'The press stands off, a head or a burr strikes, or the faces meet on one side only.',
  },
  'short-shot': {
    name: 'Short shot',
    does: 'Guard shut, nozzle on. One shot by stroke, without hold. Open, take it out with a tool, lay it in order.',
    look: 'All cavities fill alike and from the gate outward; the edge of the melt is round; it comes out whole.',
    stop: 'Flash at so little, a short part that sticks and does not lift with a soft tool, smoke, or melt at the nozzle or the parting line.',
  },
  'full-shot': {
    name: 'Full, without hold',
    does: 'The whole estimated way, still without hold. Where it is short, add no more than 0.5 mm of way at a time, and write down what filled it.',
    look: 'Just full at the far end, sinks still in it, edges clean. The estimate is of the cold part: expect to add some.',
    stop: 'Flash before it is full, a burn mark at the last place to fill, or no more way left.',
  },
  hold: {
    name: 'Hold',
    does: 'Same way, hold switched on at the figure; hold 3 s at first, then longer by 1 s until the part gets no heavier. Three shots, look at the third.',
    look: 'Sinks go, weight settles, the edge stays clean. Go no higher than the first figure at which it is good.',
    stop: 'Flash at the rim, a part that binds, or a clamp that is seen to give.',
  },
  'flash-check': {
    name: 'Flash at the rim',
    does: 'Five shots as they are now. Feel nothing with the finger: look along the rim with a lamp, and at the vents.',
    look: 'No fin at the rim, the runner or the screws; vents clean and open.',
    stop: 'A fin that grows from shot to shot, on one side only, or that a nail can lift.',
  },
  'part-release': {
    name: 'Release of the part',
    does: 'Open, wait as long as it was cooled, lift part and runner by the sprue or by hand with a glove.',
    look: 'It lifts freely and flat, all of it, from the moving half; nothing stays in plate or sprue.',
    stop: 'It has to be levered, bends, tears, or stays on the fixed half: press off, isolated and locked before a hand or tool goes in.',
  },
  'clamp-force': {
    name: 'More clamp force',
    does: 'Only where there was flash: the next force of the window, nothing else changed, five shots.',
    look: 'The fin goes. Stay at the least force at which the rim is clean.',
    stop: 'Flash is there at the last force as well, or the land shows a mark: it is the plate that needs work.',
  },
};

/** What a step is, with its number: "Short shot, 50 % of the estimate", "Hold, step 2". */
export function stepName({ kind, percent, name }: Pick<TrialStep, 'kind' | 'percent' | 'name'>): string {
  const words = STEPS[kind];
  if (kind === 'short-shot') return `${words.name}, ${percent} % of the estimate`;
  const number = /-(\d+)$/.exec(name)?.[1];
  return number === undefined ? words.name : `${words.name}, step ${number}`;
}

/** What a step is, whichever of its kind. */
export function stepWithoutNumber({ kind }: Pick<TrialStep, 'kind'>): string {
  return STEPS[kind].name;
}

/** The same of a step that is known by its name alone; nothing for one that is none. */
export function nameOfStep(name: string): string {
  const [, kind = '', number] = /^([a-z-]+?)(?:-(\d+))?$/.exec(name) ?? [];
  if (!Object.hasOwn(STEPS, kind)) return '';
  const percent = kind === 'short-shot' ? Number(number) : null;
  return stepName({ kind: kind as TrialStepKind, percent, name });
}

/** What to do, look for and stop at, for a step. */
export function stepWords(kind: TrialStepKind): Omit<StepWords, 'name'> {
  const { does, look, stop } = STEPS[kind];
  return { does, look, stop };
}

/** What a step sets, a line for each thing: "screw forward 9.9 mm (drawn back to 14.9 mm)". */
export function settingLines(set: TrialSetting): readonly string[] {
  const lines: string[] = [];
  if (set.screwMm !== null) lines.push(wayText(set.screwMm, set.meterMm));
  if (set.clampKn !== null) lines.push(`clamp ${numberText(set.clampKn, 0)} kN`);
  if (set.holdMpa !== null) lines.push(holdText(set.holdMpa, set.holdGaugeBar));
  return lines.length === 0 ? ['mould protection at its lowest'] : lines;
}

/** Said on paper of a step that sets nothing anew. */
export const SET_AS_BEFORE = 'set as before';

function wayText(screwMm: number, meterMm: number | null): string {
  const back = meterMm === null ? '' : ` (drawn back to ${numberText(meterMm)} mm)`;
  return `screw forward ${numberText(screwMm)} mm${back}`;
}

function holdText(mpa: number, bar: number | null): string {
  if (mpa === 0) return 'no hold';
  return bar === null
    ? `hold ${numberText(mpa)} MPa in the melt; the gauge as the manual gives it`
    : `hold ${numberText(bar, 0)} bar on the gauge (${numberText(mpa)} MPa in the melt)`;
}

export const OBSERVATION_WORDS: { readonly [one in Observation]: string } = {
  'closes-evenly': 'closes evenly all round',
  'heads-below-face': 'screw heads below the face',
  'gap-at-rim': 'a gap at the rim',
  strikes: 'something strikes',
  'fills-evenly': 'fills evenly',
  'cavity-behind': 'one cavity lags behind',
  'nothing-came': 'nothing came',
  flash: 'flash',
  'burn-mark': 'burn mark',
  sticks: 'part sticks',
  full: 'full',
  'still-short': 'still short',
  'sink-mark': 'sink mark',
  'sink-gone': 'sinks are gone',
  'weld-line': 'weld line',
  'no-flash': 'no flash',
  'flash-one-side': 'flash on one side only',
  'flash-at-vents': 'flash in the vents',
  'lifts-freely': 'lifts freely',
  bends: 'part bends',
  'stays-on-fixed-half': 'stays on the fixed half',
  'sprue-stays': 'sprue stays in',
  'land-marked': 'land shows a mark',
};

export const WENT_WORDS: { readonly [went in Went]: { readonly button: string; readonly past: string } } = {
  on: { button: 'As it should be: next step', past: 'as it should be' },
  again: { button: 'Not yet: the same step again', past: 'done again' },
  back: { button: 'Back to the step before', past: 'went back' },
  stop: { button: 'Stop the trial', past: 'stopped here' },
};

/** Fields of a step, as they stand over its boxes. */
export const SET_LABELS = {
  screwMm: { label: 'Screw forward', unit: 'mm' },
  clampKn: { label: 'Clamp force', unit: 'kN' },
  holdGaugeBar: { label: 'Hold, on the gauge', unit: 'bar' },
  holdMpa: { label: 'Hold, in the melt', unit: 'MPa' },
  holdS: { label: 'Hold time', unit: 's' },
} as const;

const CLAMP_FROM = {
  window: 'Clamp force from the window of the plate check: it begins at the lower end.',
  needed:
    'The plate check found no window for the clamp force: it begins at what the opening force needs. Ask the steward before the first shot.',
  unknown: 'The plate check has no figure for the clamp force: the steward says it before the first shot.',
} as const;

/** Where the figures come from and what is to be minded about them. */
export function planNotes(plan: {
  readonly clampFrom: keyof typeof CLAMP_FROM;
  readonly shot: {
    readonly volumeMm3: number;
    readonly screwMm: number;
    readonly longestMm: number;
    readonly cushionMm: number;
    readonly diameters: number;
    readonly isShortOfStroke: boolean;
    readonly isBeyondPress: boolean;
  };
}): readonly string[] {
  const { shot, clampFrom } = plan;
  return [
    `Estimated shot ${numberText(shot.volumeMm3 / 1000, 2)} cm³, drawn volume and sprue: ${numberText(shot.screwMm)} mm of screw, and ${numberText(shot.cushionMm)} mm of cushion before it.`,
    CLAMP_FROM[clampFrom],
    ...(shot.isShortOfStroke
      ? [
          `Only ${numberText(shot.diameters, 2)} screw diameters: shots will differ from one another; weigh several before you judge a step.`,
        ]
      : []),
    ...(shot.isBeyondPress
      ? [
          `More than the ${numberText(shot.longestMm)} mm that the screw has: it cannot be filled. Talk to a steward first.`,
        ]
      : []),
  ];
}

/** The stack and its screws, as facts of a sheet. */
export function stackText(facts: PlateFacts) {
  const parts = [
    `plate ${facts.thicknessMm} mm ${facts.alloy}`,
    ...(facts.facingThicknessMm > 0 ? [`facing plate ${facts.facingThicknessMm} mm`] : []),
    ...(facts.packerThicknessMm > 0 ? [`packer ${facts.packerThicknessMm} mm`] : []),
  ];
  return [
    { label: 'Stack', value: parts.join(', ') },
    { label: 'Screws', value: `${screwsText(facts)} mm, all of them in` },
  ];
}
