import type { Meeting } from '../../plates/damage/damage-under-plate.js';
import type { Half } from '../../plates/damage/store.js';
import type { HouseReasonCode, Reason } from '../../reasons.js';
import type { ReasonWords } from './drawing-reasons.js';
import { placeText } from './numbers.js';

export const HALF_WORDS: { readonly [half in Half]: { readonly text: string; readonly more: string } } = {
  moving: { text: 'Moving half', more: 'plates are screwed to its face' },
  fixed: { text: 'Fixed half', more: 'the face that plates close against' },
};

export const DAMAGE_LABELS = {
  xMm: 'x',
  yMm: 'y',
  what: 'What is damaged',
  half: 'Face of',
  photograph: 'Photograph',
  done: 'What was done',
} as const;

export const DAMAGE_ERRORS = {
  place: 'Give it in mm, for instance −12.5, or pick the place on the picture.',
  half: 'Choose the half whose face is damaged.',
} as const;

export const DAMAGE_DONE: { readonly [what: string]: { readonly word: string; readonly text: string } } = {
  reported: {
    word: 'kept',
    text: 'Thank you. The stewards are told; what they do about it comes back to you.',
  },
  closed: { word: 'closed', text: 'Whoever reported it reads what was done.' },
};

export const DAMAGE_WORDS = {
  open: 'open',
  at: (xMm: number, yMm: number) => placeText(xMm, yMm),
  /** "Moving half, x 12.5, y −40.0 mm". */
  where: (half: Half | null, xMm: number, yMm: number) =>
    half === null ? placeText(xMm, yMm) : `${HALF_WORDS[half].text}, ${placeText(xMm, yMm)}`,
  bolsterPicture: (open: number) =>
    open === 0
      ? 'The bolster’s face, with nothing damaged on it.'
      : `The bolster’s face with ${open === 1 ? 'one open damage' : `${open} open damages`}, numbered as in the list.`,
  platePicture: (open: number) =>
    open === 0
      ? 'The plate as drawn, with nothing damaged on it.'
      : `The plate as drawn with ${open === 1 ? 'one open damage' : `${open} open damages`}, numbered as in the list.`,
  cannotPick: 'Its drawing cannot be shown: give the place in figures.',
} as const;

const MEETINGS: { readonly [meeting in Meeting]: string } = {
  rests: 'lies behind the plate, which rests on it',
  land: 'lies where the plate’s land closes on it and has to seal',
  cut: 'lies opposite a cut, and will show on the part',
};

/** Damage that a plate lies over, for whoever checks it: something to look at, and no finding. */
export function damageMetText(
  { half, xMm, yMm, what }: { half: Half | null; xMm: number; yMm: number; what: string },
  meeting: Meeting,
) {
  return {
    strong: `Damage on the bolster: ${DAMAGE_WORDS.where(half, xMm, yMm)}.`,
    text: `${what.replace(/[.\s]+$/, '')}. It ${MEETINGS[meeting]}. Look at it before the plate goes on; no check counts with it.`,
  };
}

/** ": it reaches from -100 to 100 mm that way", where that is told. */
function reachText({ least, most }: NonNullable<Reason['figures']>): string {
  return least === undefined || most === undefined ? '' : `: it reaches from ${least} to ${most} mm that way`;
}

export const DAMAGE_REASONS = {
  'damage-beside': ({ figures = {} }) => ({
    message: `That is beside the ${figures.what ?? 'face'}${reachText(figures)}.`,
    fix: 'Count from the sprue axis, of a plate from its feed: x to the right, y up, as the picture shows it.',
  }),
  'damage-closed': () => ({
    message: 'Somebody has closed this already.',
    fix: 'Load the page again and read what was done; damage that is still there is reported anew.',
  }),
} satisfies { readonly [code in HouseReasonCode]?: (reason: Reason) => ReasonWords };
