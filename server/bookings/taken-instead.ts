import { pgFaultOf } from '../database/pg-fault.js';
import { type Refusal, refuse } from '../reasons.js';

/** The outcome of a write that takes press time, or that somebody else was there first. */
export async function takenInstead<Result>(writing: Promise<Result>): Promise<Result | Refusal> {
  try {
    return await writing;
  } catch (error) {
    if (pgFaultOf(error)?.constraint === 'reservation_no_overlap') {
      return refuse('press-taken', { field: 'startsAt' });
    }
    throw error;
  }
}
