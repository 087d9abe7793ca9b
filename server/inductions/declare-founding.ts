import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import type { Tx } from '../database/transaction.js';
import type { Founded } from '../listeners.js';
import { refusalUnless } from '../members/permissions.js';
import { memberHeld } from '../members/store.js';
import { Refusal, refuse } from '../reasons.js';
import { rulesAt } from '../shop/store.js';
import { FIRST_COMPETENCES, layFirstContents } from './first-contents.js';
import { foundingOver, insertSignOff } from './sign-off-store.js';
import { missingCompetences } from './standing.js';
import { inductionOf } from './store.js';
import { validUntil } from './valid-until.js';

export interface DeclarationWanted {
  readonly competences: readonly string[];
  readonly note: string | null;
  readonly eighteenOrOlder: boolean;
}

/**
 * The founding admin declares what they can do, because there is nobody yet who could have watched. The trail and
 * every sheet mark it as such. Only one member ever founds, and only until somebody was signed off for stewarding:
 * after that everybody is witnessed, the founder too.
 *
 * @returns the ids of the sign-offs made; a competence for which one stands already is passed over
 */
export async function declareFounding(
  { actor, now, tx }: Ctx,
  { competences, note, eighteenOrOlder }: DeclarationWanted,
): Promise<readonly string[] | Refusal> {
  const { memberId } = actor;
  const forbidden = refusalUnless(actor, 'sign-off-declare', { ownerId: memberId });
  if (forbidden !== undefined) return forbidden;
  await memberHeld(tx, memberId);
  if (!eighteenOrOlder) return refuse('signoff-under-eighteen', { field: 'eighteenOrOlder' });
  if (await foundingOver(tx, memberId)) return refuse('founding-over');
  const { timeZone } = await rulesAt(tx, now);
  const ids: string[] = [];
  for (const competence of await missingCompetences(tx, memberId, [...new Set(competences)], now)) {
    const induction = await inductionOf(tx, competence);
    if (induction === undefined) {
      return refuse('not-found', { field: 'competences', figures: { what: 'competence' } });
    }
    const { version, title, refreshMonths } = induction;
    const id = await insertSignOff(tx, {
      memberId,
      competence,
      version,
      signedBy: memberId,
      founding: true,
      anew: false,
      note,
      witnessed: [],
      signedAt: now,
      validUntil: validUntil(now, refreshMonths, timeZone),
    });
    await recordAudit(tx, {
      at: now,
      actorId: memberId,
      action: 'founding-declaration',
      subjectKind: 'sign-off',
      subjectId: id,
      details: { memberId, competence, title, version, founding: true },
    });
    ids.push(id);
  }
  return ids;
}

/**
 * Who founds a makerspace declares with the founding form what every house begins with: without it nobody could
 * sign off the first steward.
 */
export async function declareAtFounding(tx: Tx, { memberId, at }: Founded): Promise<void> {
  await layFirstContents(tx, at);
  const actor = { memberId, displayName: '', role: 'admin', stewards: false, sessionIdHash: '' } as const;
  const competences = FIRST_COMPETENCES.map(({ name }) => name);
  const declared = await declareFounding(
    { actor, now: at, tx },
    { competences, note: null, eighteenOrOlder: true },
  );
  if (declared instanceof Refusal) throw new Error('The founding declaration was refused at the founding.');
}
