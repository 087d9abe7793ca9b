import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { refusalUnless } from '../../members/permissions.js';
import { Refusal } from '../../reasons.js';
import { nameTaken } from './name-taken.js';
import { parallelFault } from './parallel-fault.js';
import { insertStackPart, type StackPartLabel, type StackPartMetal } from './store.js';

export type NewStackPart = StackPartMetal & Omit<StackPartLabel, 'state'>;

/**
 * Adds a facing plate or a packer to the stock.
 *
 * @returns its id, or why not: no right, a name that another in service has, or absurd figures
 */
export async function addStackPart({ actor, now, tx }: Ctx, part: NewStackPart): Promise<string | Refusal> {
  const forbidden = refusalUnless(actor, 'stock-keep', {});
  if (forbidden !== undefined) return forbidden;
  const fault = parallelFault(part);
  if (fault !== undefined) return new Refusal([fault]);
  const id = await nameTaken(() => insertStackPart(tx, { ...part, madeBy: actor.memberId, at: now }));
  if (id instanceof Refusal) return id;
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'stack-part-added',
    subjectKind: 'stack-part',
    subjectId: id,
    details: { kind: part.kind, name: part.name, thicknessMm: part.thicknessMm },
  });
  return id;
}
