import type { z } from 'zod';
import type { Ctx } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { Refusal } from '../reasons.js';
import { planNotes, stepName, stepWords } from '../words/en/trial-steps.js';
import type { runReply, runsReply, trialPlanReply } from './schemas.js';
import { type Run, runById, stepsOf } from './store.js';
import type { PreparedPlan } from './trial/plan.js';
import { whereIn } from './trial/where.js';

export type RunReply = z.output<typeof runReply>;

/** A run as a line of a list. */
export function runLineView(run: Run): z.output<typeof runsReply>['items'][number] {
  return {
    id: run.id,
    bookingId: run.bookingId,
    displayName: run.displayName,
    plateId: run.plateId,
    plateName: run.plateName,
    revision: run.revision,
    bolsterId: run.bolsterId,
    bolsterVersion: run.bolsterVersion,
    polymer: run.polymer,
    kind: run.kind,
    openedBy: run.openedByName,
    openedAt: run.openedAt,
    preUse: [...run.preUse],
    withinCall: run.withinCallName,
    attendedBy: run.attendedByName,
    closedAt: run.closedAt,
    outcome: run.outcome,
    outcomeNote: run.outcomeNote,
  };
}

/** A run with what was kept of it. */
export async function runView(db: Queryable, run: Run): Promise<RunReply> {
  const kept = await stepsOf(db, run.id);
  const where = run.trialPlan === null ? undefined : whereIn(run.trialPlan, kept);
  const due = run.closedAt === null ? where?.next?.name : undefined;
  return {
    ...runLineView(run),
    steps: kept.map(({ keptByName, setAs, seen, ...step }) => ({
      ...step,
      setAs: { ...setAs },
      seen: [...seen],
      keptBy: keptByName,
    })),
    dueStep: due ?? null,
  };
}

/** What a command that changed a run answers with: the run as it is now. */
export async function viewAfter({ tx }: Ctx, outcome: string | Refusal): Promise<RunReply | Refusal> {
  if (outcome instanceof Refusal) return outcome;
  const run = await runById(tx, outcome);
  if (run === undefined) throw new Error(`Run ${outcome} is not there after it was written.`);
  return runView(tx, run);
}

/** A trial's plan, with its words. */
export function planView({ plan, bolsterId, bolsterVersion }: PreparedPlan): z.output<typeof trialPlanReply> {
  return {
    bolsterId,
    bolsterVersion,
    shotMm3: plan.shot.volumeMm3,
    screwMm: plan.shot.screwMm,
    cushionMm: plan.shot.cushionMm,
    clampFrom: plan.clampFrom,
    notes: [...planNotes(plan)],
    steps: plan.steps.map((step) => ({
      ...step,
      set: { ...step.set },
      title: stepName(step),
      ...stepWords(step.kind),
    })),
  };
}
