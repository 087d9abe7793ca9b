import type { Asker } from '../http/asker.js';

export interface TurnLimits {
  /** Pieces of work at once; one place more than strangers may have is kept for members. */
  readonly places: number;
  readonly placesForStrangers: number;
  readonly placesForOne: number;
  /** Strangers waiting, and as many members; one of them alone has at most half of that. */
  readonly waitingMax: number;
}

/** Ends a turn, once. */
export type EndTurn = () => void;

export interface Turns {
  /** Waits for a turn, members before strangers; undefined when too many wait already. */
  readonly take: (asker: Asker) => Promise<EndTurn> | undefined;
  /** Lets everybody in who waits, so that they can be told that it is over. */
  readonly letAllIn: () => void;
}

interface Waiting {
  readonly asker: Asker;
  readonly letIn: () => void;
}

/**
 * Who works when there are more at once than places: nobody has all of them, strangers leave one to members, and a
 * line of one's own never keeps others out.
 */
export function createTurns(limits: TurnLimits): Turns {
  const working: Asker[] = [];
  let line: Waiting[] = [];

  function mayStart(asker: Asker): boolean {
    if (working.length >= limits.places) return false;
    if (!asker.member && countOf(working, isStranger) >= limits.placesForStrangers) return false;
    return countOf(working, sameAs(asker)) < limits.placesForOne;
  }

  function start(asker: Asker): EndTurn {
    working.push(asker);
    return () => {
      working.splice(working.indexOf(asker), 1);
      const next =
        line.find((waiting) => waiting.asker.member && mayStart(waiting.asker)) ??
        line.find((waiting) => mayStart(waiting.asker));
      next?.letIn();
    };
  }

  function isFull(asker: Asker): boolean {
    const waiting = line.map((one) => one.asker);
    const ofTheirKind = asker.member
      ? waiting.length - countOf(waiting, isStranger)
      : countOf(waiting, isStranger);
    return (
      ofTheirKind >= limits.waitingMax || countOf(waiting, sameAs(asker)) >= Math.ceil(limits.waitingMax / 2)
    );
  }

  return {
    take(asker) {
      if (mayStart(asker)) return Promise.resolve(start(asker));
      if (isFull(asker)) return undefined;
      return new Promise((turn) => {
        const waiting: Waiting = {
          asker,
          letIn: () => {
            line = line.filter((other) => other !== waiting);
            turn(start(asker));
          },
        };
        line.push(waiting);
      });
    },
    letAllIn: () => {
      for (const waiting of [...line]) waiting.letIn();
    },
  };
}

function isStranger({ member }: Asker): boolean {
  return !member;
}

function sameAs({ name, member }: Asker): (other: Asker) => boolean {
  return (other) => other.name === name && other.member === member;
}

function countOf(askers: readonly Asker[], counts: (asker: Asker) => boolean): number {
  return askers.filter(counts).length;
}
