import type { Ctx } from '../context.js';
import { type Listeners, tell } from '../listeners.js';
import { Refusal, refuse } from '../reasons.js';
import { factsWithParts, NO_PARTS } from './facts-with-parts.js';
import { type DrawingGiven, keepDrawing, sha256Of } from './keep-drawing.js';
import { plateActedOn } from './plate-acted-on.js';
import { isRevision } from './store.js';

export interface RevisionAdded extends DrawingGiven {
  readonly plateId: string;
  /** True where a revision like the latest is taken for a mistake. */
  readonly mustDiffer?: boolean;
}

/** Adds a drawing that has been read, with its facts, as the next revision of a plate of the actor's own. */
export async function addRevision(
  ctx: Ctx,
  given: RevisionAdded,
  listeners: Pick<Listeners, 'plateRevised'>,
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const plate = await plateActedOn(ctx, 'plate-revise', given.plateId);
  if (plate instanceof Refusal) return plate;
  if (plate.retiredAt !== null) return refuse('plate-retired');
  const { drawing, mustDiffer = false, parts = NO_PARTS } = given;
  const facts = await factsWithParts(tx, given.facts, parts);
  if (facts instanceof Refusal) return facts;
  const same = { dxfSha256: sha256Of(drawing), facts };
  if (mustDiffer && (await isRevision(tx, plate.id, plate.latestRevision, same))) {
    return refuse('revision-unchanged', { figures: { latest: plate.latestRevision } });
  }
  const revision = plate.latestRevision + 1;
  await keepDrawing(ctx, { plateId: plate.id, revision, action: 'plate-revised' }, { ...given, facts });
  const revised = { plateId: plate.id, revision, at: now, actorId: actor.memberId };
  await tell(listeners.plateRevised, tx, revised);
  return plate.id;
}
