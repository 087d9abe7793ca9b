import { recordAudit } from '../audit/record-audit.js';
import type { Actor } from '../context.js';
import { transact } from '../database/transaction.js';
import type { House } from '../http/house.js';
import { endOtherSessions, endSession } from './session.js';

/** Ends the session that the member acts by. */
export async function signOut({ database, now }: House, actor: Actor): Promise<void> {
  await transact(database, async (tx) => {
    await endSession(tx, actor.sessionIdHash, now());
    await recordAudit(tx, {
      at: now(),
      actorId: actor.memberId,
      action: 'signed-out',
      subjectKind: 'member',
      subjectId: actor.memberId,
    });
  });
}

/** Ends every other session of the member: a phone that was lost, a computer at the workshop. */
export async function signOutElsewhere({ database, now }: House, actor: Actor): Promise<number> {
  return transact(database, async (tx) => {
    const ended = await endOtherSessions(tx, actor, now());
    await recordAudit(tx, {
      at: now(),
      actorId: actor.memberId,
      action: 'signed-out-elsewhere',
      subjectKind: 'member',
      subjectId: actor.memberId,
      details: { sessions: ended },
    });
    return ended;
  });
}
