import type { Hurt } from '../../server/runs/near-misses/store.js';
import type { SetAs } from '../../server/runs/store.js';
import type { Observation } from '../../server/runs/trial/observations.js';
import type { Went } from '../../server/runs/trial/where.js';
import type { YardMember } from './gullwing-yard.js';

/** The plate that has been tried and waits to be cleared for it. */
export const TRIED = {
  plate: 'pull',
  owner: 'petra',
  steward: 'kofi',
  withinCall: 'wren',
  polymer: 'PP',
} as const;

/** When it may have been tried, counted from the seeding: the first of these that was open and free. */
export const TRIED_AT: readonly { readonly day: number; readonly from: string; readonly to: string }[] = [
  { day: -1, from: '15:00', to: '17:00' },
  { day: -2, from: '18:00', to: '20:00' },
  { day: -3, from: '14:00', to: '16:00' },
];

export interface YardStep {
  readonly step: string;
  readonly setAs: SetAs;
  readonly seen: readonly Observation[];
  readonly note?: string;
  readonly went: Went;
}

/** How the drawer pull was tried: slowly, with one step done again and one gone back to. */
export const TRIED_STEPS: readonly YardStep[] = [
  { step: 'close-gently', setAs: {}, seen: ['closes-evenly', 'heads-below-face'], went: 'on' },
  { step: 'short-shot-50', setAs: { screwMm: 14 }, seen: ['fills-evenly'], went: 'on' },
  {
    step: 'short-shot-70',
    setAs: { screwMm: 19.5 },
    seen: ['sticks'],
    note: 'Came off with the wooden wedge; cooled 10 s longer.',
    went: 'again',
  },
  { step: 'short-shot-70', setAs: { screwMm: 19.5 }, seen: ['fills-evenly'], went: 'on' },
  { step: 'short-shot-85', setAs: { screwMm: 24 }, seen: ['fills-evenly'], went: 'on' },
  {
    step: 'short-shot-95',
    setAs: { screwMm: 26.5 },
    seen: ['flash'],
    note: 'A whisper at the gate; looked once more at 85 %.',
    went: 'back',
  },
  { step: 'short-shot-85', setAs: { screwMm: 24 }, seen: ['fills-evenly'], went: 'on' },
  { step: 'short-shot-95', setAs: { screwMm: 26 }, seen: ['fills-evenly'], went: 'on' },
  { step: 'full-shot', setAs: { screwMm: 28.5 }, seen: ['full', 'sink-mark'], went: 'on' },
  { step: 'hold-1', setAs: { holdGaugeBar: 10, holdS: 3 }, seen: ['sink-mark'], went: 'on' },
  { step: 'hold-2', setAs: { holdGaugeBar: 21, holdS: 5 }, seen: ['sink-gone'], went: 'on' },
  {
    step: 'hold-3',
    setAs: { holdGaugeBar: 21, holdS: 5 },
    seen: ['sink-gone'],
    note: 'Left at the figure before: no need for more.',
    went: 'on',
  },
  { step: 'flash-check', setAs: {}, seen: ['no-flash'], went: 'on' },
  { step: 'part-release', setAs: {}, seen: ['lifts-freely'], went: 'on' },
];

export interface YardNearMiss {
  readonly by: YardMember;
  readonly hoursAgo: number;
  readonly place: string;
  readonly what: string;
  readonly hurt: Hurt;
  readonly answered?: { readonly by: YardMember; readonly hoursAfter: number; readonly done: string };
}

export const YARD_NEAR_MISSES: readonly YardNearMiss[] = [
  {
    by: 'bram',
    hoursAgo: 120,
    place: 'Press, purge guard',
    what: 'The purge guard did not latch and swung open while I purged. Some melt landed on the floor, none on me.',
    hurt: 'nobody',
    answered: {
      by: 'odile',
      hoursAfter: 3,
      done: 'Press taken off, latch replaced and the interlock tried ten times. The pre-use check names the purge guard now.',
    },
  },
  {
    by: 'nuria',
    hoursAgo: 6,
    place: 'Resin shelf',
    what: 'A 25 kg sack slid off the upper shelf when I pulled the one beside it. Nobody stood below.',
    hurt: 'nobody',
  },
];
