import type { Half } from '../../server/plates/damage/store.js';
import type { YardMember } from './gullwing-yard.js';

export interface YardDamage {
  readonly by: YardMember;
  readonly hoursAgo: number;
  /** Of the mounted bolster, or a plate by its key. */
  readonly of: { readonly half: Half } | { readonly plate: string };
  readonly xMm: number;
  readonly yMm: number;
  readonly what: string;
  readonly closed?: { readonly by: YardMember; readonly hoursAfter: number; readonly done: string };
}

/** What was found damaged at the yard: one dent that waits, seen by large plates alone, and what was seen to. */
export const YARD_DAMAGE: readonly YardDamage[] = [
  {
    by: 'ishaan',
    hoursAgo: 400,
    of: { half: 'moving' },
    xMm: 20,
    yMm: 5,
    what: 'A raised burr at the edge of a tapped hole, felt with a fingernail while the press was cold and locked off.',
    closed: {
      by: 'kofi',
      hoursAfter: 20,
      done: 'Stoned flat and blued: the straightedge rides over it. The thread was cleaned with a tap.',
    },
  },
  {
    by: 'nuria',
    hoursAgo: 30,
    of: { half: 'fixed' },
    xMm: 84,
    yMm: -62,
    what: 'A dent 3 mm long, as from a dropped hex key. Its rim stands up a little.',
  },
  {
    by: 'wren',
    hoursAgo: 52,
    of: { plate: 'hive' },
    xMm: 6,
    yMm: 9,
    what: 'A fine scratch across the land beside the feed. No flash seen yet.',
  },
];
