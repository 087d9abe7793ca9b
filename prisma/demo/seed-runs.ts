import { book } from '../../server/bookings/book.js';
import type { Actor } from '../../server/context.js';
import type { Tx } from '../../server/database/transaction.js';
import { memberAsking } from '../../server/http/asker.js';
import { accept } from '../../server/http/refused.js';
import { storedReport } from '../../server/plates/stored-report.js';
import { Refusal } from '../../server/reasons.js';
import { closeRun } from '../../server/runs/close-run.js';
import { keepStep } from '../../server/runs/keep-step.js';
import { answerNearMiss } from '../../server/runs/near-misses/answer-near-miss.js';
import { reportNearMiss } from '../../server/runs/near-misses/report-near-miss.js';
import { openRun } from '../../server/runs/open-run.js';
import { PRE_USE_LINES } from '../../server/runs/pre-use.js';
import { preparePlan } from '../../server/runs/trial/plan.js';
import type { Span } from '../../server/shop/opening-hours.js';
import { checksHere } from './checks-here.js';
import type { YardMember } from './gullwing-yard.js';
import { TRIED, TRIED_AT, TRIED_STEPS, YARD_NEAR_MISSES } from './yard-trial.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const BOOKED_BEFORE_MS = 48 * HOUR_MS;

interface Yard {
  readonly tx: Tx;
  readonly now: Date;
  readonly actorIn: (key: YardMember) => Actor;
  readonly spanOn: (day: number, from: string, to: string) => Span;
}

/** A trial that was booked, opened, led and closed by the commands that members use, on the first day it could be. */
export async function seedTrial({ tx, actorIn, spanOn }: Yard, plateId: string): Promise<void> {
  const actor = actorIn(TRIED.owner);
  const wish = { plateId, revision: 1, polymer: TRIED.polymer };
  for (const { day, from, to } of TRIED_AT) {
    const span = spanOn(day, from, to);
    const bookedAt = new Date(span.startsAt.getTime() - BOOKED_BEFORE_MS);
    const house = { checks: checksHere, database: tx, now: () => bookedAt };
    accept(await storedReport(house, { ...wish, bolsterId: null }, memberAsking(actor)));
    const bookingId = await book(
      { actor, now: bookedAt, tx },
      { ...wish, ...span, bookingKind: 'trial', shots: 30, granulate: false },
    );
    if (!(bookingId instanceof Refusal)) return leadTrial({ tx, actorIn }, bookingId, wish, span);
  }
}

async function leadTrial(
  { tx, actorIn }: Pick<Yard, 'tx' | 'actorIn'>,
  bookingId: string,
  wish: { readonly plateId: string; readonly revision: number; readonly polymer: string },
  { startsAt }: Span,
): Promise<void> {
  const actor = actorIn(TRIED.owner);
  const at = (minutes: number) => new Date(startsAt.getTime() + minutes * MINUTE_MS);
  const house = { checks: checksHere, database: tx, now: () => startsAt };
  const prepared = accept(await preparePlan(house, wish, memberAsking(actor)));
  const wanted = {
    bookingId,
    preUse: PRE_USE_LINES,
    withinCall: { memberId: actorIn(TRIED.withinCall).memberId },
    attendedBy: actorIn(TRIED.steward).memberId,
  };
  const runId = accept(await openRun({ actor, now: startsAt, tx }, wanted, prepared));
  for (const [i, { note = null, ...step }] of TRIED_STEPS.entries()) {
    const ctx = { actor, now: at(15 + 5 * i), tx };
    accept(await keepStep(ctx, { ...step, runId, note, photograph: null }));
  }
  const closing = {
    runId,
    outcome: 'runs-well',
    note: 'Hold at 21 bar for 5 s; cool 10 s longer than at first.',
  } as const;
  accept(await closeRun({ actor, now: at(95), tx }, closing));
}

/** One near miss that was answered, and one that waits. */
export async function seedNearMisses({ tx, now, actorIn }: Yard): Promise<void> {
  for (const { by, hoursAgo, answered, ...told } of YARD_NEAR_MISSES) {
    const happenedAt = new Date(now.getTime() - hoursAgo * HOUR_MS);
    const ctx = { actor: actorIn(by), now: happenedAt, tx };
    const id = accept(await reportNearMiss(ctx, { ...told, happenedAt }));
    if (answered === undefined) continue;
    const at = new Date(happenedAt.getTime() + answered.hoursAfter * HOUR_MS);
    const answer = { nearMissId: id, done: answered.done };
    accept(await answerNearMiss({ actor: actorIn(answered.by), now: at, tx }, answer));
  }
}
