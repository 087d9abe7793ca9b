import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import type { Verdict } from '../engineering/finding.js';

/** Groups of the desk in their order. */
export const DESK_GROUPS = ['today', 'people'] as const;
export type DeskGroup = (typeof DESK_GROUPS)[number];

/** One thing that waits for a steward. */
export interface Waiting {
  readonly group: DeskGroup;
  /** What it is, in a few words, and one line more. */
  readonly name: string;
  readonly more: string;
  /** Since when it waits, or until when it can be done: the nearer, the more pressing. */
  readonly since?: Date;
  readonly until?: Date;
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

/** All that waits, group by group; within a group what has an end comes first, the nearest end before others. */
export async function allWaiting(
  queues: readonly DeskQueue[],
  asked: DeskAsked,
): Promise<readonly Waiting[]> {
  const lines = (await Promise.all(queues.map((queue) => queue(asked)))).flat();
  return DESK_GROUPS.flatMap((group) => lines.filter((line) => line.group === group).sort(byPressing));
}

function byPressing(a: Waiting, b: Waiting): number {
  if (a.until !== undefined && b.until !== undefined) return a.until.getTime() - b.until.getTime();
  if (a.until !== undefined || b.until !== undefined) return a.until !== undefined ? -1 : 1;
  return (a.since?.getTime() ?? 0) - (b.since?.getTime() ?? 0);
}
