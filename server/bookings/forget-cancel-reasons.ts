import type { Tx } from '../database/transaction.js';
import type { MemberLeft } from '../listeners.js';
import { dropCancelReasons } from './store.js';

/** Forgets in whose words the bookings of a member who left were cancelled; that they were stays. */
export async function forgetCancelReasons(tx: Tx, { memberId }: MemberLeft): Promise<void> {
  await dropCancelReasons(tx, memberId);
}
