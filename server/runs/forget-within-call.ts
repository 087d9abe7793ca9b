import type { Tx } from '../database/transaction.js';
import type { MemberLeft } from '../listeners.js';
import { renameWithinCall } from './store.js';

/** Puts the pseudonym of a member who left where others had typed their name as within call. */
export async function forgetWithinCall(tx: Tx, { memberId, nameBefore }: MemberLeft): Promise<void> {
  await renameWithinCall(tx, memberId, nameBefore);
}
