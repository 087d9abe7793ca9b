import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import { factsWithParts, NO_PARTS } from './facts-with-parts.js';
import { type DrawingGiven, keepDrawing, sha256Of } from './keep-drawing.js';
import { insertPlate, sameKept } from './store.js';

export interface PlateSubmitted extends DrawingGiven {
  readonly name: string;
  /** True where a form sent again must not make a twin: the plate that is there already is the answer. */
  readonly once?: boolean;
}

/** Keeps a drawing that has been read, with its facts, as a new plate of the actor's: revision 1. */
export async function submitPlate(ctx: Ctx, given: PlateSubmitted): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const forbidden = refusalUnless(actor, 'plate-submit', {});
  if (forbidden !== undefined) return forbidden;
  const facts = await factsWithParts(tx, given.facts, given.parts ?? NO_PARTS);
  if (facts instanceof Refusal) return facts;
  if (given.once === true) {
    const { name, drawing } = given;
    const twin = { ownerId: actor.memberId, name, facts, dxfSha256: sha256Of(drawing) };
    const kept = await sameKept(tx, twin);
    if (kept !== undefined) return kept;
  }
  const plate = await insertPlate(tx, { ownerId: actor.memberId, name: given.name, createdAt: now });
  await keepDrawing(ctx, { plateId: plate.id, revision: 1, action: 'plate-submitted' }, { ...given, facts });
  return plate.id;
}
