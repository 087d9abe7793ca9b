import type { Actor, Ctx } from '../context.js';
import { transact } from '../database/transaction.js';
import { memberAsking } from '../http/asker.js';
import { Refusal, refuse } from '../reasons.js';
import type { CheckingHouse } from './checking-house.js';
import { ReportWanted } from './report-wanted.js';
import { storedReport } from './stored-report.js';

/** Once for a report that is missing, once more for a bolster, press or rule that changed while it was computed. */
const ATTEMPTS_MAX = 3;

/**
 * Runs a command in a transaction; where it finds a report missing, that is computed with no transaction open,
 * stored, and the command runs again from the start.
 */
export async function transactWithReport<Result>(
  house: CheckingHouse,
  actor: Actor,
  work: (ctx: Ctx) => Promise<Result | Refusal>,
): Promise<Result | Refusal> {
  for (let attempt = 1; attempt <= ATTEMPTS_MAX; attempt++) {
    try {
      return await transact(house.database, (tx) => work({ actor, now: house.now(), tx }));
    } catch (error) {
      if (!(error instanceof ReportWanted)) throw error;
      const outcome = await storedReport(house, { ...error.key, rulesAt: error.at }, memberAsking(actor));
      if (outcome instanceof Refusal) return outcome;
    }
  }
  return refuse('changed-meanwhile');
}
