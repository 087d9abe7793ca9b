import { pgFaultOf } from '../database/pg-fault.js';
import { type Refusal, refuse } from '../reasons.js';

/** The outcome of a write that takes rights from a member, or that they are the last admin. */
export async function lastAdminInstead(writing: Promise<void>): Promise<Refusal | undefined> {
  try {
    await writing;
    return undefined;
  } catch (error) {
    if (pgFaultOf(error)?.constraint === 'member_last_admin') return refuse('last-admin');
    throw error;
  }
}
