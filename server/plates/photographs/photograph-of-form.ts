import type { FastifyRequest } from 'fastify';
import type { Actor } from '../../context.js';
import { transact } from '../../database/transaction.js';
import { takesFiles } from '../../http/uploads.js';
import { refusalUnless } from '../../members/permissions.js';
import { Refusal, refuse } from '../../reasons.js';
import type { CheckingHouse } from '../checking-house.js';
import { visiblePlate } from '../visible-plate.js';
import {
  type DevelopedPhotograph,
  developPhotograph,
  PHOTOGRAPH_BYTES_MAX,
  photographTooLarge,
} from './develop-photograph.js';
import { keepPhotograph } from './keep-photograph.js';

/** The `config` of a route whose form brings a photograph. */
export const takesPhotograph = takesFiles({ bytesMax: PHOTOGRAPH_BYTES_MAX });

/** The file `photograph` of a form, drawn anew, or what is wrong with it. Do it with no transaction open. */
export async function photographOfForm(request: FastifyRequest): Promise<DevelopedPhotograph | Refusal> {
  const upload = request.uploads.find(({ field }) => field === 'photograph');
  if (upload === undefined || (upload.bytes.byteLength === 0 && !upload.tooLarge)) {
    return refuse('photograph-not-read', { field: 'photograph' });
  }
  return upload.tooLarge ? photographTooLarge() : developPhotograph(upload.bytes);
}

/** The same where a form may come without one: null then. A browser sends an empty file where none was chosen. */
export async function photographOfFormIfAny(
  request: FastifyRequest,
): Promise<DevelopedPhotograph | null | Refusal> {
  const chosen = request.uploads.some(
    ({ field, bytes, tooLarge }) => field === 'photograph' && (tooLarge || bytes.byteLength > 0),
  );
  return chosen ? photographOfForm(request) : null;
}

/**
 * Keeps the photograph that a form brings for a plate, once it is known that the actor may.
 *
 * @param wish.revision the latest when left out
 * @returns the photograph's id
 */
export async function keepPhotographOfForm(
  request: FastifyRequest,
  { database, now }: Pick<CheckingHouse, 'database' | 'now'>,
  actor: Actor,
  wish: { readonly plateId: string; readonly revision: number | undefined; readonly caption: string },
): Promise<string | Refusal> {
  const plate = await visiblePlate(database, actor, wish.plateId);
  if (plate instanceof Refusal) return plate;
  const forbidden = refusalUnless(actor, 'plate-photograph', plate);
  if (forbidden !== undefined) return forbidden;
  const photograph = await photographOfForm(request);
  if (photograph instanceof Refusal) return photograph;
  const { caption, revision = plate.latestRevision } = wish;
  const about = { plateId: plate.id, revision };
  return transact(database, (tx) =>
    keepPhotograph({ actor, now: now(), tx }, { photograph, about, caption }),
  );
}
