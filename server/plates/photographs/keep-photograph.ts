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
}

/** Keeps a photograph of a plate (its owner and stewards) or of a bolster (stewards); gives its id. */
export async function keepPhotograph(ctx: Ctx, given: PhotographKept): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const { about, caption, photograph } = given;
  const refusal = 'plateId' in about ? await ofPlate(ctx, about) : await ofBolster(ctx, about);
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
): Promise<Refusal | undefined> {
  const plate = await plateToRevise(tx, plateId);
  if (plate === undefined) return refuse('not-found', { figures: { what: 'plate' } });
  const forbidden = refusalUnless(actor, 'plate-photograph', plate, { by: 'plate-see', what: 'plate' });
  if (forbidden !== undefined) return forbidden;
  if ((await revisionOf(tx, plateId, revision)) === undefined)
    return refuse('not-found', { figures: { what: 'revision' } });
  return undefined;
}

async function ofBolster(
  { actor, tx }: Ctx,
  { bolsterId }: { readonly bolsterId: string },
): Promise<Refusal | undefined> {
  if ((await bolsterById(tx, bolsterId)) === undefined)
    return refuse('not-found', { figures: { what: 'bolster' } });
  return refusalUnless(actor, 'bolster-photograph', {});
}
