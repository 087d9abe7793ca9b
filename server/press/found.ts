import { recordAudit } from '../audit/record-audit.js';
import type { Tx } from '../database/transaction.js';
import { type Listeners, tell } from '../listeners.js';
import { firstRunHash } from '../members/installation.js';
import { insertMember } from '../members/store.js';
import { type Refusal, refuse } from '../reasons.js';
import { addRules } from '../shop/store.js';
import { addBolster, addPress } from './add.js';
import { bolsterFactsFrom, type FirstRunForm, pressFactsFrom, shopRulesOf } from './first-run-form.js';

/** True while a one-time link can still be used. */
export async function isLinkGood(db: Pick<Tx, 'query'>, token: string): Promise<boolean> {
  const hash = firstRunHash(token);
  return (await db.query('select from installation where first_run_token_hash = $1', [hash])).length > 0;
}

/**
 * Founds the makerspace: its first admin, shop rules, press and bolster, once for a link. Two who send the form
 * at the same moment meet on the installation's row, and the second finds the link spent.
 */
export async function found(
  { tx, now }: { readonly tx: Tx; readonly now: Date },
  listeners: Pick<Listeners, 'founded'>,
  token: string,
  form: FirstRunForm,
  passwordHash: string,
): Promise<string | Refusal> {
  const spent = await tx.query(
    'update installation set first_run_token_hash = null where first_run_token_hash = $1 returning demo',
    [firstRunHash(token)],
  );
  if (spent.length === 0) return refuse('first-run-link-spent');
  const { email, displayName } = form;
  const memberId = await insertMember(tx, {
    email,
    displayName,
    role: 'admin',
    passwordHash,
    createdAt: now,
  });
  const version = await addRules(tx, shopRulesOf(form), now, memberId);
  const pressId = await addPress(tx, { name: form.pressName, facts: pressFactsFrom(form), at: now });
  const bolsterId = await addBolster(tx, {
    pressId,
    name: form.bolsterName,
    mounted: true,
    facts: bolsterFactsFrom(form),
    at: now,
  });
  await recordAudit(tx, {
    at: now,
    actorId: memberId,
    action: 'makerspace-founded',
    subjectKind: 'installation',
    subjectId: 'this',
    details: { pressId, bolsterId, shopRules: version },
  });
  await tell(listeners.founded, tx, { memberId, at: now });
  return memberId;
}
