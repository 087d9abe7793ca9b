import type { Tx } from '../database/transaction.js';
import { withdrawHandedBy, withdrawResets } from './links.js';
import { endSessionsOf } from './session.js';

/** When what a member may do changes, everything ends that stood on what they might before. */
export async function endRights(tx: Tx, memberId: string, at: Date): Promise<void> {
  await endSessionsOf(tx, memberId, at);
  await withdrawResets(tx, memberId, at);
  await withdrawHandedBy(tx, memberId, at);
}
