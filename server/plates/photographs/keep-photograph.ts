import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { refusalUnless } from '../../members/permissions.js';
import { bolsterById } from '../../press/store.js';
import { type Refusal, refuse } from '../../reasons.js';
import { plateToRevise, revisionOf } from '../store.js';
import type { DevelopedPhotograph } from './develop-photograph.js';
import { insertPhotograph, type PhotographAbout, photographCount } from './store.js';

/** Of one plate or bolster. */
export const PHOTOGRAPHS_MAX = 60;

export interface PhotographKept {
  /** What `developPhotograph` made of the bytes that came, before this transaction began. */
  readonly photograph: DevelopedPhotograph;
  readonly about: PhotographAbout;
  /** At most 200 characters; may be empty. */
  readonly caption: string;
  /** True where it shows damage that is being reported: who may report that may show it. */
  readonly ofDamage?: boolean;
}

/**
 * Keeps a photograph of a plate (its owner, who may run it, and stewards) or of a bolster (stewards); of damage, of
 * whoever reports it. Gives its id.
 */
export async function keepPhotograph(ctx: Ctx, given: PhotographKept): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const { about, caption, photograph, ofDamage = false } = given;
  const refusal =
    'plateId' in about ? await ofPlate(ctx, about, ofDamage) : await ofBolster(ctx, about, ofDamage);
  if (refusal !== undefined) return refusal;
  if ((await photographCount(tx, about)) >= PHOTOGRAPHS_MAX) {
    return refuse('photographs-full', { field: 'photograph', figures: { limit: PHOTOGRAPHS_MAX } });
  }
  const kept = { ...photograph, caption, keptBy: actor.memberId, keptAt: now };
  const photographId = await insertPhotograph(tx, about, kept);
  const [subjectKind, subjectId] =
    'plateId' in about ? (['plate', about.plateId] as const) : (['bolster', about.bolsterId] as const);
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'photograph-kept',
    subjectKind,
    subjectId,
    details: { photographId, ...('revision' in about && { revision: about.revision }) },
  });
  return photographId;
}

async function ofPlate(
  { actor, tx }: Ctx,
  { plateId, revision }: { readonly plateId: string; readonly revision: number },
  ofDamage: boolean,
): Promise<Refusal | undefined> {
  const plate = await plateToRevise(tx, plateId);
  if (plate === undefined) return refuse('not-found', { figures: { what: 'plate' } });
  const right = ofDamage ? 'plate-damage-report' : 'plate-photograph';
  const forbidden = refusalUnless(actor, right, plate, { by: 'plate-see', what: 'plate' });
  if (forbidden !== undefined) return forbidden;
  if ((await revisionOf(tx, plateId, revision)) === undefined)
    return refuse('not-found', { figures: { what: 'revision' } });
  return undefined;
}

async function ofBolster(
  { actor, tx }: Ctx,
  { bolsterId }: { readonly bolsterId: string },
  ofDamage: boolean,
): Promise<Refusal | undefined> {
  if ((await bolsterById(tx, bolsterId)) === undefined)
    return refuse('not-found', { figures: { what: 'bolster' } });
  return refusalUnless(actor, ofDamage ? 'bolster-damage-report' : 'bolster-photograph', {});
}
