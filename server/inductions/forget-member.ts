import type { Tx } from '../database/transaction.js';
import type { MemberLeft } from '../listeners.js';
import { forgetSignOffWords } from './sign-off-store.js';
import { closeAllRequests, dropCard, forgetRequestNotes } from './store.js';

/** Forgets the words about a member who left; that they were signed off stays. */
export async function forgetInductionWords(tx: Tx, { memberId, at }: MemberLeft): Promise<void> {
  await closeAllRequests(tx, memberId, at);
  await forgetRequestNotes(tx, memberId);
  await dropCard(tx, memberId);
  await forgetSignOffWords(tx, memberId);
}
