import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import type { Refusal } from '../reasons.js';
import { type DrawingGiven, keepDrawing } from './keep-drawing.js';
import { insertPlate } from './store.js';

export interface PlateSubmitted extends DrawingGiven {
  readonly name: string;
}

/** Keeps a drawing that has been read, with its facts, as a new plate of the actor's: revision 1. */
export async function submitPlate(ctx: Ctx, given: PlateSubmitted): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const forbidden = refusalUnless(actor, 'plate-submit', {});
  if (forbidden !== undefined) return forbidden;
  const plate = await insertPlate(tx, { ownerId: actor.memberId, name: given.name, createdAt: now });
  await keepDrawing(ctx, { plateId: plate.id, revision: 1, action: 'plate-submitted' }, given);
  return plate.id;
}
