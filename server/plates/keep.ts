import type { Actor, Ctx } from '../context.js';
import { transact } from '../database/transaction.js';
import { type Asker, memberAsking } from '../http/asker.js';
import { answerKept, idempotent } from '../http/idempotent.js';
import { refusalUnless } from '../members/permissions.js';
import { Refusal } from '../reasons.js';
import { addRevision, type RevisionAdded } from './add-revision.js';
import { sprueDiameterNow } from './check-ground.js';
import type { DrawingReport } from './check-report-schema.js';
import type { CheckingHouse, Checks } from './checking-house.js';
import { type DrawingGiven, sha256Of } from './keep-drawing.js';
import { refusalOfHoles } from './refusal-of-holes.js';
import { keptPlateReply } from './schemas.js';
import { drawingsKept, type SameDrawing } from './store.js';
import { type PlateSubmitted, submitPlate } from './submit-plate.js';
import { visiblePlate, wholePlate } from './visible-plate.js';

type KeepingHouse = Pick<CheckingHouse, 'database' | 'now'> & {
  readonly checks: Pick<Checks, 'measure'>;
};

interface Repeatable {
  /** Idempotency-Key, where the caller gave one. */
  readonly key?: string | undefined;
  /** True where it is known that the drawing can be read. */
  readonly read?: boolean;
}

/** Why a drawing cannot be kept with what is said about it, or nothing. */
export async function unreadable(
  { checks, database }: KeepingHouse,
  { drawing, facts }: Pick<DrawingGiven, 'drawing' | 'facts'>,
  asker: Asker,
): Promise<Refusal | undefined> {
  const json = await checks.measure(drawing.bytes, await sprueDiameterNow(database), asker);
  if (json instanceof Refusal) return json;
  const { bolts } = JSON.parse(Buffer.from(json).toString()) as DrawingReport;
  return refusalOfHoles(facts, bolts.length);
}

/** Keeps a new plate, once its drawing could be read. */
export async function keepPlate(
  house: KeepingHouse,
  actor: Actor,
  { key, read = false, ...given }: PlateSubmitted & Repeatable,
) {
  return keep(house, actor, given, { route: 'POST /plates', key, read }, (ctx) => submitPlate(ctx, given));
}

/** Keeps the next revision of a plate, once its drawing could be read; whether it may be is asked before that. */
export async function keepRevision(
  house: KeepingHouse & Pick<CheckingHouse, 'listeners'>,
  actor: Actor,
  { key, read = false, ...given }: RevisionAdded & Repeatable,
) {
  const plate = await visiblePlate(house.database, actor, given.plateId);
  if (plate instanceof Refusal) return plate;
  const forbidden = refusalUnless(actor, 'plate-revise', plate);
  if (forbidden !== undefined) return forbidden;
  return keep(house, actor, given, { route: 'POST /plates/:id/revisions', key, read }, (ctx) =>
    addRevision(ctx, given, house.listeners),
  );
}

function sameDrawingView({ plateId, name, revision }: SameDrawing) {
  return { plateId, name, revision };
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
  const repeatable = { ...asked, body: given, reply: keptPlateReply };
  const kept = await answerKept(database, actor, repeatable);
  if (kept !== undefined) return kept;
  const refusal = read ? undefined : await unreadable(house, given, memberAsking(actor));
  if (refusal !== undefined) return refusal;
  return transact(database, (tx) => {
    const ctx = { actor, now: now(), tx };
    return idempotent(ctx, repeatable, async () => {
      const kept = await drawingsKept(tx, actor.memberId, [sha256Of(given.drawing)]);
      const plateId = await command(ctx);
      if (plateId instanceof Refusal) return plateId;
      const plate = await wholePlate(tx, actor, plateId);
      return plate instanceof Refusal ? plate : { ...plate, sameDrawing: kept.map(sameDrawingView) };
    });
  });
}
