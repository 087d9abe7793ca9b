import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { standingStewards } from '../../inductions/sign-off-store.js';
import { refusalUnless } from '../../members/permissions.js';
import { notify } from '../../notices/notify.js';
import { type Refusal, refuse } from '../../reasons.js';
import { type Hurt, insertNearMiss } from './store.js';

export interface NearMissTold {
  /** Null: just now. */
  readonly happenedAt: Date | null;
  readonly place: string;
  readonly what: string;
  readonly hurt: Hurt;
}

/** Keeps what nearly went wrong, or did, and tells every steward. */
export async function reportNearMiss(ctx: Ctx, told: NearMissTold): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const forbidden = refusalUnless(actor, 'near-miss-report', { ownerId: actor.memberId });
  if (forbidden !== undefined) return forbidden;
  const happenedAt = told.happenedAt ?? now;
  if (happenedAt > now) {
    const detail = 'it has not happened yet';
    return refuse('field-invalid', { field: 'happenedAt', figures: { detail } });
  }
  const { place, what, hurt } = told;
  const made = { reportedBy: actor.memberId, reportedAt: now, happenedAt, place, what, hurt };
  const nearMissId = await insertNearMiss(tx, made);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'near-miss-reported',
    subjectKind: 'near-miss',
    subjectId: nearMissId,
    details: { hurt },
  });
  const stewards = (await standingStewards(tx, now)).filter((id) => id !== actor.memberId);
  await notify(tx, {
    kind: 'near-miss-reported',
    memberIds: stewards,
    aboutId: actor.memberId,
    figures: { hurt },
    href: `/near-misses/${nearMissId}`,
    at: now,
  });
  return nearMissId;
}
