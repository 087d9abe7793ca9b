import { isDeepStrictEqual } from 'node:util';
import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import type { BolsterFacts } from '../engineering/press-facts.js';
import { type Listeners, tell } from '../listeners.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal, refuse } from '../reasons.js';
import type { Foreseen } from '../shop/foreseen.js';
import { bolsterFaults } from './bolster-faults.js';
import { type Bolster, bolsterById } from './store.js';
import { bolsterChanges } from './version-changes.js';
import { insertBolsterVersion, pressHeld } from './version-store.js';

export interface BolsterRevised {
  readonly bolsterId: string;
  readonly facts: BolsterFacts;
  readonly why: string;
  /** The version it was changed from. */
  readonly basedOn: number;
}

/** The bolster as it stands, where this version of it may be made; else every reason why not. Writes nothing. */
export async function proposeBolster(
  { actor, tx }: Pick<Ctx, 'actor'> & { readonly tx: Pick<Ctx['tx'], 'query'> },
  { bolsterId, facts, basedOn }: Omit<BolsterRevised, 'why'>,
): Promise<Bolster | Refusal> {
  const forbidden = refusalUnless(actor, 'press-edit', {});
  if (forbidden !== undefined) return forbidden;
  const bolster = await bolsterById(tx, bolsterId);
  if (bolster === undefined) return refuse('not-found', { figures: { what: 'bolster' } });
  const [fault, ...others] = bolsterFaults(facts);
  if (fault !== undefined) return new Refusal([fault, ...others]);
  if (bolster.version !== basedOn) return refuse('changed-meanwhile');
  if (isDeepStrictEqual(bolster.facts, facts)) return refuse('version-unchanged');
  return bolster;
}

/**
 * Makes a further version of a bolster, for everything that is checked from now on; of the mounted one, later rooms
 * are told in the same transaction.
 *
 * @returns the new version's number, or every reason why not: no right, what a bolster cannot be, nothing that
 * differs, or a version that somebody else made meanwhile
 */
export async function reviseBolster(
  ctx: Ctx,
  revised: BolsterRevised,
  foreseen: Foreseen,
  listeners: Pick<Listeners, 'bolsterRevised' | 'groundChanged'>,
): Promise<number | Refusal> {
  const { actor, now, tx } = ctx;
  await pressHeld(tx);
  const before = await proposeBolster(ctx, revised);
  if (before instanceof Refusal) return before;
  const { bolsterId, facts, why } = revised;
  const version = before.version + 1;
  await insertBolsterVersion(tx, { bolsterId, version, facts, at: now, madeBy: actor.memberId, why });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'bolster-revised',
    subjectKind: 'bolster',
    subjectId: bolsterId,
    details: { name: before.name, version, why, changed: bolsterChanges(before.facts, facts).join(', ') },
  });
  const { name, pressId } = before;
  await tell(listeners.bolsterRevised, tx, { bolsterId, name, version, at: now, actorId: actor.memberId });
  if (before.mounted) {
    await tell(listeners.groundChanged, tx, {
      pressId,
      bolsterId,
      change: 'bolster',
      foreseen,
      at: now,
      actorId: actor.memberId,
    });
  }
  return version;
}
