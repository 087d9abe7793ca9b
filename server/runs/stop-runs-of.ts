import { recordAudit } from '../audit/record-audit.js';
import type { Tx } from '../database/transaction.js';
import type { MemberLeft } from '../listeners.js';
import { openRunsHeld, setClosed } from './store.js';

const WHY = 'Closed by the service: whoever ran it has left.';

/** Closes the runs of a member who left, before their press time is given back. */
export async function stopRunsOf(tx: Tx, { memberId, at, actorId }: MemberLeft): Promise<void> {
  for (const { id, kind } of await openRunsHeld(tx, memberId)) {
    await setClosed(tx, id, { by: actorId, at, outcome: 'stopped', note: WHY });
    await recordAudit(tx, {
      at,
      actorId,
      action: 'run-closed',
      subjectKind: 'run',
      subjectId: id,
      details: { outcome: 'stopped', kind },
    });
  }
}
