import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { pgFaultOf } from '../database/pg-fault.js';
import { memberBesideActor } from '../members/acted-on.js';
import { refusalUnless } from '../members/permissions.js';
import { activeOfRoles } from '../members/store.js';
import { notify } from '../notices/notify.js';
import { Refusal, refuse } from '../reasons.js';
import { rulesAt } from '../shop/store.js';
import { foundingOver, insertSignOff, namesSignedOffForStewarding } from './sign-off-store.js';
import { closeRequest, inductionOf } from './store.js';
import { validUntil } from './valid-until.js';

const STEWARDING = 'stewarding';

export interface DeclaredAnew {
  /** Why nobody could witness it, in words that others read. */
  readonly note: string;
  readonly eighteenOrOlder: boolean;
}

/**
 * An admin declares stewarding for themselves, without a witness, when nobody who is here is signed off for it any
 * more: the way back of a house whose last steward left, lapsed or was revoked. For nothing else, so that whatever
 * else they do is witnessed by whom they sign off next. Told to the trail, to every steward and admin, and on the
 * history for good.
 *
 * @returns the sign-off's id
 */
export async function declareAnew(ctx: Ctx, given: DeclaredAnew): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const { memberId } = actor;
  const forbidden = refusalUnless(actor, 'sign-off-declare', { ownerId: memberId });
  if (forbidden !== undefined) return forbidden;
  const held = await memberBesideActor(ctx, memberId);
  if (held instanceof Refusal) return held;
  if (!given.eighteenOrOlder) return refuse('signoff-under-eighteen', { field: 'eighteenOrOlder' });
  const stand = await namesSignedOffForStewarding(tx, now);
  if (stand.length > 0) return refuse('steward-stands', { figures: { who: stand.join(', ') } });
  if (!(await foundingOver(tx, memberId))) return refuse('founding-open');
  const induction = await inductionOf(tx, STEWARDING);
  if (induction === undefined) return refuse('not-found', { figures: { what: 'competence' } });
  const { version, title, refreshMonths } = induction;
  const until = validUntil(now, refreshMonths, (await rulesAt(tx, now)).timeZone);
  const declaring = insertSignOff(tx, {
    memberId,
    competence: STEWARDING,
    version,
    signedBy: memberId,
    founding: true,
    anew: true,
    note: given.note,
    witnessed: [],
    signedAt: now,
    validUntil: until,
  });
  const id = await anotherInstead(declaring);
  if (id instanceof Refusal) return id;
  await closeRequest(tx, memberId, STEWARDING, 'signed-off', now);
  await recordAudit(tx, {
    at: now,
    actorId: memberId,
    action: 'stewarding-declared-anew',
    subjectKind: 'sign-off',
    subjectId: id,
    details: { memberId, competence: STEWARDING, title, version, founding: true, anew: true },
  });
  const others = (await activeOfRoles(tx, ['steward', 'admin'])).filter((other) => other !== memberId);
  await notify(tx, {
    memberIds: others,
    kind: 'stewarding-declared-anew',
    aboutId: memberId,
    figures: { competence: title, reason: given.note },
    href: `/inductions/history/${memberId}`,
    at: now,
  });
  return id;
}

/** Two admins at the same moment: the database lets one in. */
async function anotherInstead(declaring: Promise<string>): Promise<string | Refusal> {
  try {
    return await declaring;
  } catch (error) {
    if (pgFaultOf(error)?.constraint === 'sign_off_anew_only_without_steward')
      return refuse('steward-stands');
    throw error;
  }
}
