import { pgFaultOf } from '../../database/pg-fault.js';
import { type Refusal, refuse } from '../../reasons.js';

/** What `work` comes to, or a refusal where another part in service has the name: two labels alike on one rack. */
export async function nameTaken<Result>(work: () => Promise<Result>): Promise<Result | Refusal> {
  try {
    return await work();
  } catch (error) {
    if (pgFaultOf(error)?.constraint !== 'stack_part_name_once') throw error;
    return refuse('stack-part-name-taken', { field: 'name' });
  }
}
