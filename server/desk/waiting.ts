import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import type { Verdict } from '../engineering/finding.js';

/** Groups of the desk in their order. */
export const DESK_GROUPS = ['today', 'plates', 'people'] as const;
export type DeskGroup = (typeof DESK_GROUPS)[number];

/** One thing that waits for a steward. */
export interface Waiting {
  readonly group: DeskGroup;
  /** What it is, in a few words, and one line more. */
  readonly name: string;
  readonly more: string;
  /** Since when it waits, or until when it can be done. */
  readonly since?: Date;
  readonly until?: Date;
  /** Only where it presses. */
  readonly verdict?: Verdict;
  readonly href: string;
  readonly button: string;
}

/** What a queue may look at. */
export interface DeskAsked {
  readonly db: Queryable;
  readonly now: Date;
  readonly actor: Actor;
  readonly timeZone: string;
}

/** A queue of one room: what of it waits for this steward, the most pressing first. */
export type DeskQueue = (asked: DeskAsked) => Promise<readonly Waiting[]>;

/** All that waits, group by group; within a group what has a verdict first, else in the order of the queues. */
export async function allWaiting(
  queues: readonly DeskQueue[],
  asked: DeskAsked,
): Promise<readonly Waiting[]> {
  const lines = (await Promise.all(queues.map((queue) => queue(asked)))).flat();
  return DESK_GROUPS.flatMap((group) => {
    const ofGroup = lines.filter((line) => line.group === group);
    return [
      ...ofGroup.filter(({ verdict }) => verdict !== undefined),
      ...ofGroup.filter(({ verdict }) => verdict === undefined),
    ];
  });
}
