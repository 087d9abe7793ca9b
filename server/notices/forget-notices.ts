import type { Tx } from '../database/transaction.js';
import type { MemberLeft } from '../listeners.js';
import { dropNoticesOf, dropReasonsAbout } from './store.js';

/** Deletes what a member who left was told, and takes the words about them out of what others were told. */
export async function forgetNotices(tx: Tx, { memberId }: MemberLeft): Promise<void> {
  await dropNoticesOf(tx, memberId);
  await dropReasonsAbout(tx, memberId);
}
