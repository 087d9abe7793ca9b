import type { Queryable } from '../../database/queryable.js';
import type { CheckingHouse } from '../checking-house.js';

/** A trial run that was led and closed, as a clearance asks about it. */
export interface TrialRun {
  readonly id: string;
  readonly plateId: string;
  readonly revision: number;
  readonly bolsterId: string;
  readonly bolsterVersion: number;
  readonly polymer: string;
  /** Only one that `runs-well` clears a plate. */
  readonly outcome: string;
  readonly openedAt: Date;
  readonly closedAt: Date;
}

/** What clearing plates is given: checks, and what the room of runs, which comes later, knows of trials. */
export interface ClearanceHouse extends CheckingHouse {
  /** The trial runs of a plate that are over, latest first. */
  readonly trialRuns: (db: Queryable, plateId: string) => Promise<readonly TrialRun[]>;
}
