import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { type Listener, type SignOffGiven, tell } from '../listeners.js';
import { mayAtAll, refusalUnless } from '../members/permissions.js';
import { notify } from '../notices/notify.js';
import { Refusal, refuse } from '../reasons.js';
import { rulesAt } from '../shop/store.js';
import { memberBesideSteward } from './beside-steward.js';
import { contentsOf } from './contents-of.js';
import { endSignOff, insertSignOff } from './sign-off-store.js';
import { standingSignOff } from './standing.js';
import { closeRequest, type InductionVersion, inductionOf, inductionVersion, openRequest } from './store.js';
import { validUntil } from './valid-until.js';

export interface SignOffWanted {
  readonly memberId: string;
  readonly competence: string;
  /** What was seen, in the signer's words; never empty where no checklist is on record. */
  readonly note: string | null;
  /** The request for a witness that this answers, where the signer names it; without it, whatever is open. */
  readonly requestId: string | null;
  /** The signer's declaration: under-eighteens are never operators. */
  readonly eighteenOrOlder: boolean;
  /** What was seen done, item by item: the whole checklist of the contents, or nothing. */
  readonly witnessed: readonly string[];
  /** The sign-off that this one follows, where one stands: nobody signs on top of another unseen. */
  readonly refreshes: string | null;
}

/**
 * Signs a member off for what they were watched doing. It says which version of the contents: the one the member
 * has answered, or else the latest. Two stewards at once meet on the member, and the later finds the earlier's.
 *
 * @param given who must know that a sign-off stands now
 * @returns the sign-off's id
 */
export async function signOff(
  ctx: Ctx,
  given: readonly Listener<SignOffGiven>[],
  wanted: SignOffWanted,
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const { memberId, competence } = wanted;
  if (!mayAtAll(actor, 'sign-off-give')) return refuse('not-allowed', { figures: { needs: 'a steward' } });
  const member = await memberBesideSteward(ctx, memberId);
  if (member instanceof Refusal) return member;
  if (member === undefined || member.state === 'left') {
    return refuse('not-found', { field: 'memberId', figures: { what: 'member' } });
  }
  const latest = await inductionOf(tx, competence);
  if (latest === undefined)
    return refuse('not-found', { field: 'competence', figures: { what: 'competence' } });
  if (memberId === actor.memberId) return refuse('signoff-oneself', { field: 'memberId' });
  const forbidden = refusalUnless(actor, 'sign-off-give', { ownerId: memberId });
  if (forbidden !== undefined) return forbidden;
  if (member.state === 'suspended') return refuse('member-suspended', { field: 'memberId' });
  if (!wanted.eighteenOrOlder) return refuse('signoff-under-eighteen', { field: 'eighteenOrOlder' });
  const standing = await standingSignOff(tx, memberId, competence, { from: now, through: now });
  if (standing !== undefined && standing.id !== wanted.refreshes) return refuse('signoff-stands');
  if (standing === undefined && wanted.refreshes !== null) return refuse('changed-meanwhile');

  const request = await openRequest(tx, memberId, competence);
  const answered = request && (await inductionVersion(tx, competence, request.version));
  if (wanted.requestId !== null && wanted.requestId !== request?.id) return refuse('witness-not-asked');
  const { version, title, refreshMonths } = answered ?? latest;
  const unseen = whyNotSeen(wanted, answered ?? latest);
  if (unseen !== undefined) return unseen;
  const { timeZone } = await rulesAt(tx, now);
  const until = validUntil(now, refreshMonths, timeZone);
  if (standing !== undefined) {
    await endSignOff(tx, standing.id, { kind: 'refreshed', by: actor.memberId, reason: null, at: now });
  }
  const id = await insertSignOff(tx, {
    memberId,
    competence,
    version,
    signedBy: actor.memberId,
    founding: false,
    anew: false,
    note: wanted.note,
    witnessed: wanted.witnessed,
    signedAt: now,
    validUntil: until,
  });
  await closeRequest(tx, memberId, competence, 'signed-off', now);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'signed-off',
    subjectKind: 'sign-off',
    subjectId: id,
    details: { memberId, competence, title, version, checklist: wanted.witnessed.length > 0 },
  });
  await notify(tx, {
    memberIds: [memberId],
    kind: 'signed-off',
    figures: { competence: title, until: until.toISOString() },
    href: `/inductions/${competence}`,
    at: now,
  });
  await tell(given, tx, { memberId, competence, at: now, actorId: actor.memberId });
  return id;
}

/** What was not seen done is not signed off; what is not ticked item by item is at least said. */
function whyNotSeen({ witnessed, note }: SignOffWanted, contents: InductionVersion): Refusal | undefined {
  if (witnessed.length === 0) {
    const detail = 'without the checklist, say what was seen done';
    return note === null || note.trim() === ''
      ? refuse('field-invalid', { field: 'note', figures: { detail } })
      : undefined;
  }
  const seen = new Set(witnessed);
  const missing = contentsOf(contents).practical.checklist.filter((item) => !seen.has(item)).length;
  return missing === 0
    ? undefined
    : refuse('checklist-unfinished', { field: 'witnessed', figures: { missing } });
}
