import type { Ctx } from '../context.js';
import { refusalUnless } from '../members/permissions.js';
import { type Refusal, refuse } from '../reasons.js';
import { type DrawingGiven, keepDrawing, sha256Of } from './keep-drawing.js';
import { isRevision, plateToRevise } from './store.js';

export interface RevisionAdded extends DrawingGiven {
  readonly plateId: string;
  /** True where a revision like the latest is taken for a mistake. */
  readonly mustDiffer?: boolean;
}

/** Adds a drawing that has been read, with its facts, as the next revision of a plate of the actor's own. */
export async function addRevision(ctx: Ctx, given: RevisionAdded): Promise<string | Refusal> {
  const { actor, tx } = ctx;
  const plate = await plateToRevise(tx, given.plateId);
  if (plate === undefined) return refuse('not-found', { figures: { what: 'plate' } });
  const forbidden = refusalUnless(actor, 'plate-revise', plate, { by: 'plate-see', what: 'plate' });
  if (forbidden !== undefined) return forbidden;
  const { drawing, facts, mustDiffer = false } = given;
  const same = { dxfSha256: sha256Of(drawing), facts };
  if (mustDiffer && (await isRevision(tx, plate.id, plate.latestRevision, same))) {
    return refuse('revision-unchanged', { figures: { latest: plate.latestRevision } });
  }
  const revision = plate.latestRevision + 1;
  await keepDrawing(ctx, { plateId: plate.id, revision, action: 'plate-revised' }, given);
  return plate.id;
}
