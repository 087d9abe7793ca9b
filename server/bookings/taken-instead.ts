import { pgFaultOf } from '../database/pg-fault.js';
import { type Refusal, refuse } from '../reasons.js';

/**
 * The outcome of a write that takes press time or gives it back, or that somebody else was there first, changed what it
 * stands on, or is running it.
 */
export async function takenInstead<Result>(writing: Promise<Result>): Promise<Result | Refusal> {
  try {
    return await writing;
  } catch (error) {
    const constraint = pgFaultOf(error)?.constraint;
    if (constraint === 'reservation_no_overlap') return refuse('press-taken', { field: 'startsAt' });
    if (constraint === 'booking_run_open') return refuse('booking-run-open');
    if (constraint === 'booking_report_fits' || constraint === 'booking_clearance_fits')
      return refuse('changed-meanwhile');
    throw error;
  }
}
