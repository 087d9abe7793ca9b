import type { Actor, Ctx } from '../context.js';
import { transact } from '../database/transaction.js';
import { type Asker, memberAsking } from '../http/asker.js';
import { answerKept, idempotent } from '../http/idempotent.js';
import { Refusal } from '../reasons.js';
import { addRevision, type RevisionAdded } from './add-revision.js';
import { sprueDiameterNow } from './check-ground.js';
import type { CheckingHouse, Checks } from './checking-house.js';
import { wholePlateReply } from './schemas.js';
import { type PlateSubmitted, submitPlate } from './submit-plate.js';
import type { DrawingFile } from './uploaded-drawing.js';
import { wholePlate } from './visible-plate.js';

type KeepingHouse = Pick<CheckingHouse, 'database' | 'now'> & { readonly checks: Pick<Checks, 'measure'> };

interface Repeatable {
  /** Idempotency-Key, where the caller gave one. */
  readonly key?: string | undefined;
  /** True where it is known that the drawing can be read. */
  readonly read?: boolean;
}

/** Why a drawing cannot be kept, or nothing. */
export async function unreadable(
  { checks, database }: KeepingHouse,
  { bytes }: DrawingFile,
  asker: Asker,
): Promise<Refusal | undefined> {
  const drawing = await checks.measure(bytes, await sprueDiameterNow(database), asker);
  return drawing instanceof Refusal ? drawing : undefined;
}

/** Keeps a new plate, once its drawing could be read. */
export async function keepPlate(
  house: KeepingHouse,
  actor: Actor,
  { key, read = false, ...given }: PlateSubmitted & Repeatable,
) {
  return keep(house, actor, given, { route: 'POST /plates', key, read }, (ctx) => submitPlate(ctx, given));
}

/** Keeps the next revision of a plate, once its drawing could be read. */
export async function keepRevision(
  house: KeepingHouse,
  actor: Actor,
  { key, read = false, ...given }: RevisionAdded & Repeatable,
) {
  return keep(house, actor, given, { route: 'POST /plates/:id/revisions', key, read }, (ctx) =>
    addRevision(ctx, given),
  );
}

/**
 * Reads the drawing first, off the request thread and with no transaction open: nothing unreadable is stored, and
 * what was kept before under the same key is not read again.
 */
async function keep(
  house: KeepingHouse,
  actor: Actor,
  given: PlateSubmitted | RevisionAdded,
  { read, ...asked }: { readonly route: string; readonly key: string | undefined; readonly read: boolean },
  command: (ctx: Ctx) => Promise<string | Refusal>,
) {
  const { database, now } = house;
  const repeatable = { ...asked, body: given, reply: wholePlateReply };
  const kept = await answerKept(database, actor, repeatable);
  if (kept !== undefined) return kept;
  const refusal = read ? undefined : await unreadable(house, given.drawing, memberAsking(actor));
  if (refusal !== undefined) return refusal;
  return transact(database, (tx) => {
    const ctx = { actor, now: now(), tx };
    return idempotent(ctx, repeatable, async () => {
      const plateId = await command(ctx);
      return plateId instanceof Refusal ? plateId : wholePlate(tx, actor, plateId);
    });
  });
}
