import type { Reached } from '../../plates/clearance/steps.js';
import { numberText } from './numbers.js';

/** What is wrong with a filter of the library. */
export const LIBRARY_ERRORS = {
  words: 'Give a word, or the beginning of one, in at most 80 characters.',
  resin: 'There is no such resin: give the symbol of a polymer, for instance PP.',
  size: 'Choose the plate or its parts.',
  length: 'Give a length in mm from 0 to 2000, for instance 12.5.',
  order: 'The most is less than the least: turn them round.',
  condition: 'Choose a condition from the list.',
  whose: 'Choose it from the list.',
  cleared: 'Choose yes or no.',
  place: 'Give the place in at most 60 characters.',
  retired: 'Choose it from the list.',
} as const;

export const LIBRARY_LABELS = {
  words: 'What it makes',
  resin: 'Cleared for resin',
  size: 'Longer side of',
  minMm: 'At least',
  maxMm: 'At most',
  condition: 'Condition',
  whose: 'Who may run it',
  cleared: 'Cleared on this bolster',
  place: 'Lies at',
  retired: 'Retired',
} as const;

/** The choices of each list, the first the one that asks nothing. */
export const LIBRARY_CHOICES = {
  size: [
    ['part', 'a part'],
    ['plate', 'the plate'],
  ],
  whose: [
    ['', 'anybody'],
    ['mine', 'my own plates'],
    ['run', 'shared to be run'],
    ['see', 'shared to be seen'],
  ],
  cleared: [
    ['', 'either'],
    ['yes', 'cleared'],
    ['no', 'not cleared yet'],
  ],
  retired: [
    ['no', 'left out'],
    ['yes', 'only these'],
    ['all', 'with the others'],
  ],
} as const;

const REACHED: { readonly [reached in Reached]: string } = {
  none: 'not measured yet',
  fit: 'measured, not tried yet',
  trial: 'tried, not cleared yet',
  production: 'cleared',
};

/** "cleared: HDPE, PP", "measured, not tried yet". */
export function reachedText(reached: Reached, polymers: readonly string[]): string {
  return reached === 'production' && polymers.length > 0
    ? `${REACHED.production}: ${polymers.join(', ')}`
    : REACHED[reached];
}

/** "160 × 120 × 16 mm". */
export function plateSizeText(widthMm: number | null, heightMm: number | null, thicknessMm: number): string {
  const thick = numberText(thicknessMm, thicknessMm % 1 === 0 ? 0 : 1);
  if (widthMm === null || heightMm === null) return `${thick} mm thick`;
  return `${numberText(widthMm, 0)} × ${numberText(heightMm, 0)} × ${thick} mm`;
}

/** "4 parts of 38 mm", "3 parts of 12 to 40 mm". */
export function partsSizeText(partMm: readonly number[]): string {
  const [least = 0, most = 0] = [partMm[0], partMm.at(-1)].map((mm) => Math.round(mm ?? 0));
  if (partMm.length === 0) return '';
  const sizes = least === most ? `${least} mm` : `${least} to ${most} mm`;
  return partMm.length === 1 ? `1 part, ${sizes} long` : `${partMm.length} parts, ${sizes} long`;
}

/** Who may run a plate, from where one stands. */
export function runText(mine: boolean, sharing: 'nobody' | 'see' | 'run'): string {
  if (mine) return 'yours';
  return { nobody: 'its owner', see: 'its owner; you see it', run: 'you too' }[sharing];
}

/** Whom to ask about a plate. */
export function askText(ownerName: string, ownerLeft: boolean): string {
  return ownerLeft ? 'ask a steward' : ownerName;
}

export const NOT_DRAWN = 'its drawing cannot be shown';

/** What stands on a plate's label. */
export const LABEL_WORDS = {
  code: (id: string, revision: number) => `${id.slice(0, 8)}, revision ${revision}`,
  qr: (name: string) => `QR code that leads to the plate ${name}`,
  place: 'Lies at',
  owner: 'Owner',
  metal: 'Plate',
  screws: 'Screws',
  resins: 'Resins',
  cleared: 'Clearance',
  noPlace: 'not said',
  noResin: 'none yet',
  on: (bolster: string, version: number) => `${bolster}, version ${version}`,
  noBolster: 'no bolster is mounted',
  /** Under everything: a label is a day old at least when it is read. */
  printed: (date: string) => `As of ${date}: read the code before it goes on the press.`,
} as const;
