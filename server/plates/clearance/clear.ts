import type { Actor, Ctx } from '../../context.js';
import { transact } from '../../database/transaction.js';
import { memberAsking } from '../../http/asker.js';
import { idempotent } from '../../http/idempotent.js';
import { Refusal, refuse } from '../../reasons.js';
import { plateById, revisionOf } from '../store.js';
import { storedReport } from '../stored-report.js';
import { transactWithReport } from '../transact-with-report.js';
import type { ClearanceHouse } from './clearance-house.js';
import { type DecisionWanted, decide, refusalToDecide } from './decide.js';
import { historyOf } from './history.js';
import { judgeFit } from './judge-fit.js';
import { type ReworkWanted, rework } from './rework.js';
import { clearanceReply, reworkReply } from './schemas.js';
import { clearanceView } from './views.js';

/**
 * Decides about a step, once for a key. Readings are judged, and reports computed that are missing, before the
 * transaction begins.
 */
export async function decideOnce(
  house: ClearanceHouse,
  actor: Actor,
  wanted: DecisionWanted,
  key: string | undefined,
) {
  const { database, listeners } = house;
  const plate = await plateById(database, wanted.plateId);
  const { readings, plateId, revision, bolsterId, step } = wanted;
  const forbidden = refusalToDecide(actor, plate, await revisionOf(database, plateId, revision));
  if (forbidden !== undefined) return forbidden;
  const fit =
    readings === null
      ? null
      : await judgeFit(house, { plateId, revision, bolsterId, readings }, memberAsking(actor));
  if (fit instanceof Refusal) return fit;
  for (const polymer of step === 'production' && wanted.decision === 'clear' ? wanted.polymers : []) {
    const report = await storedReport(house, { plateId, revision, polymer, bolsterId }, memberAsking(actor));
    if (report instanceof Refusal) return report;
  }
  const trialRuns = step === 'trial' ? await house.trialRuns(database, plateId) : [];
  return transactWithReport(house, actor, (ctx) => {
    const route = 'POST /plates/:id/revisions/:revision/clearance';
    return idempotent(ctx, { route, key, body: wanted, reply: clearanceReply }, async () => {
      const id = await decide(ctx, wanted, { fit, trialRuns }, listeners.clearanceChanged);
      if (id instanceof Refusal) return id;
      const [view] = await viewsOf(ctx, plateId, [id]);
      return view ?? refuse('changed-meanwhile');
    });
  });
}

/** Sends a plate to rework, once for a key. */
export async function reworkOnce(
  { database, listeners, now }: ClearanceHouse,
  actor: Actor,
  wanted: ReworkWanted,
  key: string | undefined,
) {
  return transact(database, (tx) => {
    const ctx = { actor, now: now(), tx };
    const asked = {
      route: 'POST /plates/:id/revisions/:revision/rework',
      key,
      body: wanted,
      reply: reworkReply,
    };
    return idempotent(ctx, asked, async () => {
      const ids = await rework(ctx, wanted, listeners.clearanceChanged);
      if (ids instanceof Refusal) return ids;
      return { items: await viewsOf(ctx, wanted.plateId, ids), next: null };
    });
  });
}

/** Some decisions about a plate, as they are answered after they were made. */
async function viewsOf({ tx }: Pick<Ctx, 'tx'>, plateId: string, ids: readonly string[]) {
  const plate = await plateById(tx, plateId);
  if (plate === undefined) return [];
  const since = await historyOf(tx, plate);
  return since.decisions.filter(({ id }) => ids.includes(id)).map((made) => clearanceView(made, since));
}
