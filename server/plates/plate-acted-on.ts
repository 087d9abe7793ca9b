import type { Ctx } from '../context.js';
import { type Action, refusalUnless } from '../members/permissions.js';
import { type Refusal, refuse } from '../reasons.js';
import { type Plate, plateToRevise } from './store.js';

/**
 * The plate that an actor may do this to, held: whoever books, revises, clears or shares it meanwhile waits, and
 * sees what became of it.
 */
export async function plateActedOn(
  { actor, tx }: Pick<Ctx, 'actor' | 'tx'>,
  action: Action,
  plateId: string,
): Promise<Plate | Refusal> {
  const plate = await plateToRevise(tx, plateId);
  if (plate === undefined) return refuse('not-found', { figures: { what: 'plate' } });
  return refusalUnless(actor, action, plate, { by: 'plate-see', what: 'plate' }) ?? plate;
}
