import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import type { BolsterFacts } from '../engineering/press-facts.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal, refuse } from '../reasons.js';
import { addBolster } from './add.js';
import { bolsterFaults } from './bolster-faults.js';
import { bolsters, thePress } from './store.js';
import { pressHeld } from './version-store.js';

export interface BolsterAdded {
  readonly name: string;
  readonly facts: BolsterFacts;
  readonly why: string;
}

/**
 * Adds another bolster to the press, beside it for now: nothing that stands is touched until it is mounted.
 *
 * @returns its id, or every reason why not: no right, a name that another has, what a bolster cannot be
 */
export async function addAnotherBolster(
  { actor, now, tx }: Ctx,
  { name, facts, why }: BolsterAdded,
): Promise<string | Refusal> {
  const forbidden = refusalUnless(actor, 'press-edit', {});
  if (forbidden !== undefined) return forbidden;
  const [fault, ...others] = bolsterFaults(facts);
  if (fault !== undefined) return new Refusal([fault, ...others]);
  await pressHeld(tx);
  const press = await thePress(tx);
  if (press === undefined) return refuse('not-found', { figures: { what: 'press' } });
  const isTaken = (await bolsters(tx)).some((one) => one.name.toLowerCase() === name.toLowerCase());
  if (isTaken) return refuse('bolster-name-taken', { field: 'name', figures: { name } });
  const given = { pressId: press.id, name, mounted: false, facts, at: now, madeBy: actor.memberId, why };
  const id = await addBolster(tx, given);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'bolster-added',
    subjectKind: 'bolster',
    subjectId: id,
    details: { name, why },
  });
  return id;
}
