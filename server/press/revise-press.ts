import { isDeepStrictEqual } from 'node:util';
import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import type { PressFacts } from '../engineering/press-facts.js';
import { type Listeners, tell } from '../listeners.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal, refuse } from '../reasons.js';
import type { Foreseen } from '../shop/foreseen.js';
import { pressFaults } from './press-faults.js';
import { mountedBolster, type Press, thePress } from './store.js';
import { pressChanges } from './version-changes.js';
import { insertPressVersion, pressHeld } from './version-store.js';

export interface PressRevised {
  readonly facts: PressFacts;
  readonly why: string;
  /** The version it was changed from. */
  readonly basedOn: number;
}

/** The press as it stands, where this version of it may be made; else every reason why not. Writes nothing. */
export async function proposePress(
  { actor, tx }: Pick<Ctx, 'actor'> & { readonly tx: Pick<Ctx['tx'], 'query'> },
  { facts, basedOn }: Omit<PressRevised, 'why'>,
): Promise<Press | Refusal> {
  const forbidden = refusalUnless(actor, 'press-edit', {});
  if (forbidden !== undefined) return forbidden;
  const press = await thePress(tx);
  if (press === undefined) return refuse('not-found', { figures: { what: 'press' } });
  const [fault, ...others] = pressFaults(facts);
  if (fault !== undefined) return new Refusal([fault, ...others]);
  if (press.version !== basedOn) return refuse('changed-meanwhile');
  if (isDeepStrictEqual(press.facts, facts)) return refuse('version-unchanged');
  return press;
}

/**
 * Makes a further version of the press, for everything that is checked from now on; later rooms are told in the same
 * transaction.
 *
 * @returns the new version's number, or every reason why not: no right, what a press cannot be, nothing that differs,
 * or a version that somebody else made meanwhile
 */
export async function revisePress(
  ctx: Ctx,
  revised: PressRevised,
  foreseen: Foreseen,
  listeners: Pick<Listeners, 'groundChanged'>,
): Promise<number | Refusal> {
  const { actor, now, tx } = ctx;
  await pressHeld(tx);
  const before = await proposePress(ctx, revised);
  if (before instanceof Refusal) return before;
  const { facts, why } = revised;
  const version = before.version + 1;
  await insertPressVersion(tx, {
    pressId: before.id,
    version,
    facts,
    at: now,
    madeBy: actor.memberId,
    why,
  });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'press-revised',
    subjectKind: 'press',
    subjectId: before.id,
    details: { version, why, changed: pressChanges(before.facts, facts).join(', ') },
  });
  const mounted = await mountedBolster(tx);
  if (mounted !== undefined) {
    await tell(listeners.groundChanged, tx, {
      pressId: before.id,
      bolsterId: mounted.id,
      change: 'press',
      foreseen,
      at: now,
      actorId: actor.memberId,
    });
  }
  return version;
}
