import { createHash } from 'node:crypto';
import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import type { PlateFacts } from '../engineering/press-facts.js';
import { refusalUnless } from '../members/permissions.js';
import type { Refusal } from '../reasons.js';
import { insertPlate, insertRevision } from './store.js';
import type { DrawingFile } from './uploaded-drawing.js';

export interface PlateSubmitted {
  readonly name: string;
  readonly drawing: DrawingFile;
  readonly facts: PlateFacts;
}

/** Keeps a drawing that has been read, with its facts, as a new plate of the actor's: revision 1. */
export async function submitPlate({ actor, now, tx }: Ctx, given: PlateSubmitted): Promise<string | Refusal> {
  const forbidden = refusalUnless(actor, 'plate-submit', {});
  if (forbidden !== undefined) return forbidden;
  const plate = await insertPlate(tx, { ownerId: actor.memberId, name: given.name, createdAt: now });
  await insertRevision(tx, plate.id, 1, {
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
    action: 'plate-submitted',
    subjectKind: 'plate',
    subjectId: plate.id,
    details: { revision: 1 },
  });
  return plate.id;
}

export function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
