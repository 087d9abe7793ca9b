import type { Actor } from '../context.js';
import { Refusal } from '../reasons.js';
import type { Foreseen } from '../shop/foreseen.js';
import { type MountingWanted, proposeMounting } from './mount-bolster.js';
import type { PressHouse } from './press-house.js';
import { type BolsterRevised, proposeBolster } from './revise-bolster.js';
import { type PressRevised, proposePress } from './revise-press.js';
import { type BolsterField, bolsterChanges, type PressField, pressChanges } from './version-changes.js';

/** What a change comes to and does, with nothing written and no transaction open. */
export interface GroundAhead<Before, Field extends string = never> {
  readonly before: Before;
  readonly changed: readonly Field[];
  readonly foreseen: Foreseen;
}

type Ahead<Before, Field extends string = never> = Promise<GroundAhead<Before, Field> | Refusal>;

/** Of another version of the press. */
export async function pressAhead(
  house: PressHouse,
  actor: Actor,
  wanted: Omit<PressRevised, 'why'>,
): Ahead<Exclude<Awaited<ReturnType<typeof proposePress>>, Refusal>, PressField> {
  const before = await proposePress({ actor, tx: house.database }, wanted);
  if (before instanceof Refusal) return before;
  const foreseen = await house.foreseeGround({ press: wanted.facts }, actor);
  return { before, changed: pressChanges(before.facts, wanted.facts), foreseen };
}

/** Of another version of a bolster; one that is not in the press touches nothing. */
export async function bolsterAhead(
  house: PressHouse,
  actor: Actor,
  wanted: Omit<BolsterRevised, 'why'>,
): Ahead<Exclude<Awaited<ReturnType<typeof proposeBolster>>, Refusal>, BolsterField> {
  const before = await proposeBolster({ actor, tx: house.database }, wanted);
  if (before instanceof Refusal) return before;
  const { bolsterId: id, facts } = wanted;
  const foreseen = await house.foreseeGround({ bolster: { id, facts } }, actor);
  return { before, changed: bolsterChanges(before.facts, facts), foreseen };
}

/** Of mounting another bolster. */
export async function mountingAhead(
  house: PressHouse,
  actor: Actor,
  wanted: Omit<MountingWanted, 'why'>,
): Ahead<Exclude<Awaited<ReturnType<typeof proposeMounting>>, Refusal>> {
  const before = await proposeMounting({ actor, tx: house.database }, wanted);
  if (before instanceof Refusal) return before;
  const foreseen = await house.foreseeGround({ mountBolsterId: wanted.bolsterId }, actor);
  return { before, changed: [], foreseen };
}
