import { createHash } from 'node:crypto';
import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import type { PlateFacts } from '../engineering/press-facts.js';
import type { PartsNamed } from './facts-with-parts.js';
import { insertRevision, type KeptFacts } from './store.js';
import type { DrawingFile } from './uploaded-drawing.js';

/** A drawing that has been read, with its facts. */
export interface DrawingGiven {
  readonly drawing: DrawingFile;
  readonly facts: PlateFacts;
  /** What of the rack it is clamped with: their thickness goes before what the facts say. */
  readonly parts?: PartsNamed;
  /** What its owner says about this revision. */
  readonly note?: string | null;
}

export function sha256Of({ bytes }: DrawingFile): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** Writes a drawing as a revision of a plate, and its line in the trail. */
export async function keepDrawing(
  { actor, now, tx }: Ctx,
  as: {
    readonly plateId: string;
    readonly revision: number;
    readonly action: 'plate-submitted' | 'plate-revised';
  },
  { drawing, facts, note = null }: Pick<DrawingGiven, 'drawing' | 'note'> & { readonly facts: KeptFacts },
): Promise<void> {
  await insertRevision(tx, as.plateId, as.revision, {
    dxf: drawing.bytes,
    dxfSha256: sha256Of(drawing),
    fileName: drawing.fileName,
    facts,
    note,
    createdBy: actor.memberId,
    createdAt: now,
  });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: as.action,
    subjectKind: 'plate',
    subjectId: as.plateId,
    details: { revision: as.revision },
  });
}
