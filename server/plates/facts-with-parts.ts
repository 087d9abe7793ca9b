import type { Tx } from '../database/transaction.js';
import type { PlateFacts } from '../engineering/press-facts.js';
import { id as idSchema } from '../http/id.js';
import { type StackPart, type StackPartKind, stackPartHeld } from '../press/stack-parts/store.js';
import { type Reason, Refusal } from '../reasons.js';
import type { KeptFacts } from './store.js';

/** What of the rack a revision is clamped with. */
export interface PartsNamed {
  readonly facingPartId: string | null;
  readonly packerPartIds: readonly string[];
}

export const NO_PARTS: PartsNamed = { facingPartId: null, packerPartIds: [] };

/** Facts whose facing plate and packers are as thick as those named from the rack, or why these cannot be. */
export async function factsWithParts(
  tx: Tx,
  facts: PlateFacts,
  { facingPartId, packerPartIds }: PartsNamed,
): Promise<KeptFacts | Refusal> {
  const found: (Part | Reason)[] = [];
  if (facingPartId !== null) found.push(await partOf(tx, facingPartId, 'facing', 'facingPartId'));
  for (const [i, id] of packerPartIds.entries()) {
    const isFirst = packerPartIds.indexOf(id) === i;
    found.push(isFirst ? await partOf(tx, id, 'packer', 'packerPartIds') : unknownPart('packerPartIds'));
  }
  const [first, ...others] = found.filter((one): one is Reason => 'code' in one);
  if (first !== undefined) return new Refusal([first, ...others]);
  const thick = (kind: StackPartKind) =>
    found.reduce((sum, one) => sum + ('kind' in one && one.kind === kind ? one.thicknessMm : 0), 0);
  return {
    ...facts,
    facingPartId,
    packerPartIds,
    ...(facingPartId !== null && { facingThicknessMm: thick('facing') }),
    ...(packerPartIds.length > 0 && { packerThicknessMm: Math.round(thick('packer') * 1000) / 1000 }),
  };
}

type Part = Pick<StackPart, 'kind' | 'thicknessMm'>;

/** Held, so that nobody retires it before the revision names it. */
async function partOf(tx: Tx, id: string, kind: StackPartKind, field: string): Promise<Part | Reason> {
  const part = idSchema.safeParse(id).success ? await stackPartHeld(tx, id) : undefined;
  if (part === undefined || part.kind !== kind) return unknownPart(field);
  if (part.state === 'retired')
    return { code: 'stack-part-not-in-service', field, figures: { name: part.name } };
  return { kind: part.kind, thicknessMm: Number(part.thicknessMm) };
}

function unknownPart(field: string): Reason {
  return { code: 'stack-part-unknown', field };
}
