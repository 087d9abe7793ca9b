import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import type { PlateFacts } from '../engineering/press-facts.js';
import { refusalUnless } from '../members/permissions.js';
import { type Refusal, refuse } from '../reasons.js';
import { insertRevision, plateToRevise } from './store.js';
import { sha256Of } from './submit-plate.js';
import type { DrawingFile } from './uploaded-drawing.js';

export interface RevisionAdded {
  readonly plateId: string;
  readonly drawing: DrawingFile;
  readonly facts: PlateFacts;
}

/** Adds a drawing that has been read, with its facts, as the next revision of a plate of the actor's own. */
export async function addRevision({ actor, now, tx }: Ctx, given: RevisionAdded): Promise<string | Refusal> {
  const plate = await plateToRevise(tx, given.plateId);
  if (plate === undefined) return refuse('not-found', { figures: { what: 'plate' } });
  const forbidden = refusalUnless(actor, 'plate-revise', plate, { by: 'plate-see', what: 'plate' });
  if (forbidden !== undefined) return forbidden;
  const revision = plate.latestRevision + 1;
  await insertRevision(tx, plate.id, revision, {
    dxf: given.drawing.bytes,
    dxfSha256: sha256Of(given.drawing.bytes),
    fileName: given.drawing.fileName,
    facts: given.facts,
    createdBy: actor.memberId,
    createdAt: now,
  });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'plate-revised',
    subjectKind: 'plate',
    subjectId: plate.id,
    details: { revision },
  });
  return plate.id;
}
