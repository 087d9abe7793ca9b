import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { type Refusal, refuse } from '../reasons.js';
import { noticeById, setRead, setReadThrough } from './store.js';

/** Marks one of one's own notices as read, and gives where it leads; again changes nothing. */
export async function markRead({ actor, now, tx }: Ctx, noticeId: string): Promise<string | Refusal> {
  const notice = await noticeById(tx, noticeId);
  if (notice === undefined) return refuse('not-found', { figures: { what: 'notice' } });
  const seen = { by: 'notice-see', what: 'notice' } as const;
  const forbidden = refusalUnless(actor, 'notice-see', { ownerId: notice.memberId }, seen);
  if (forbidden !== undefined) return forbidden;
  await setRead(tx, notice.id, now);
  return notice.href;
}

/** Marks as read what one has seen: all up to the latest that was shown, nothing that came since. */
export async function markReadThrough({ actor, now, tx }: Ctx, through: Date): Promise<number> {
  return setReadThrough(tx, actor.memberId, through, now);
}
