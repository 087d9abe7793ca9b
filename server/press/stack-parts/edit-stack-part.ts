import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { refusalUnless } from '../../members/permissions.js';
import { Refusal, refuse } from '../../reasons.js';
import { nameTaken } from './name-taken.js';
import { parallelFault } from './parallel-fault.js';
import { type StackPartLabel, setStackPartLabel, stackPartHeld } from './store.js';

type Change = { readonly [field in keyof StackPartLabel]?: StackPartLabel[field] | undefined };

/**
 * Edits what is written about a facing plate or packer, or retires it, or puts it back in service.
 *
 * @returns its id, or why not: no right, nothing of that id, edited by somebody else meanwhile, a name that is taken
 */
export async function editStackPart(
  { actor, now, tx }: Ctx,
  { id, basedOn, change }: { readonly id: string; readonly basedOn: number; readonly change: Change },
): Promise<string | Refusal> {
  const forbidden = refusalUnless(actor, 'stock-keep', {});
  if (forbidden !== undefined) return forbidden;
  const part = await stackPartHeld(tx, id);
  if (part === undefined) return refuse('not-found', { figures: { what: 'facing plate or packer' } });
  if (part.edition !== basedOn) return refuse('changed-meanwhile');
  const label: StackPartLabel = {
    name: change.name ?? part.name,
    parallelWithinMm: change.parallelWithinMm === undefined ? part.parallelWithinMm : change.parallelWithinMm,
    place: change.place ?? part.place,
    note: change.note ?? part.note,
    state: change.state ?? part.state,
  };
  const fault = parallelFault({ ...part, ...label });
  if (fault !== undefined) return new Refusal([fault]);
  const changed = (Object.keys(label) as (keyof StackPartLabel)[]).filter(
    (name) => label[name] !== part[name],
  );
  if (changed.length === 0) return refuse('version-unchanged');
  const set = await nameTaken(() => setStackPartLabel(tx, id, label));
  if (set instanceof Refusal) return set;
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action:
      label.state !== part.state && label.state === 'retired' ? 'stack-part-retired' : 'stack-part-edited',
    subjectKind: 'stack-part',
    subjectId: id,
    details: { name: label.name, changed: changed.join(', ') },
  });
  return id;
}
