import type { Actor, Ctx } from '../../server/context.js';
import type { Tx } from '../../server/database/transaction.js';
import { CHECKS } from '../../server/engineering/finding.js';
import { memberAsking } from '../../server/http/asker.js';
import { accept } from '../../server/http/refused.js';
import { type DecisionWanted, decide, type Prepared } from '../../server/plates/clearance/decide.js';
import { judgeFit } from '../../server/plates/clearance/judge-fit.js';
import type { FitReadings } from '../../server/plates/clearance/readings.js';
import { findingsOf } from '../../server/plates/clearance/reasons-against.js';
import { STEPS } from '../../server/plates/clearance/steps.js';
import { placePlate } from '../../server/plates/place-plate.js';
import { storedReport } from '../../server/plates/stored-report.js';
import { checksHere } from './checks-here.js';
import type { YardMember } from './gullwing-yard.js';
import { YARD_ACCEPTED, YARD_CLEARANCES, type YardClearance } from './yard-clearances.js';

const HOUR_MS = 3_600_000;

/** A plate of the yard, and when it had been cut. */
export interface CutPlate {
  readonly plateId: string;
  readonly cutAt: Date;
}

/** What stewards of the yard decided about its plates, by the command they use, hour after hour once a plate was cut. */
export async function seedClearances(
  tx: Tx,
  plates: ReadonlyMap<string, CutPlate>,
  actorIn: (key: YardMember) => Actor,
): Promise<void> {
  for (const cleared of YARD_CLEARANCES) {
    const cut = plates.get(cleared.plate);
    if (cut === undefined) throw new Error(`The yard has no plate ${cleared.plate}.`);
    const actor = actorIn(cleared.steward);
    const { plateId } = cut;
    accept(
      await placePlate({ actor, now: cut.cutAt, tx }, { plateId, place: cleared.place, condition: 'good' }),
    );
    const last = cleared.through === undefined ? 0 : STEPS.indexOf(cleared.through) + 1;
    for (const [i, step] of STEPS.slice(0, last).entries()) {
      const ctx = { actor, now: new Date(cut.cutAt.getTime() + (i + 1) * HOUR_MS), tx };
      const refused = step === cleared.through ? cleared.refused : undefined;
      await decideHere(ctx, cleared, {
        plateId,
        revision: 1,
        bolsterId: null,
        step,
        decision: refused === undefined ? 'clear' : 'refuse',
        polymers: [],
        accepted: [],
        readings: null,
        trialRunId: null,
        note: refused ?? null,
      });
    }
  }
  await tx.query('update notice set read_at = created_at where read_at is null');
}

/** Measures, tells of the trial or accepts the cautions, as the step asks, and decides. */
async function decideHere(ctx: Ctx, cleared: YardClearance, about: DecisionWanted): Promise<void> {
  switch (about.step) {
    case 'fit': {
      const readings = readingsOf(cleared);
      const fit = accept(await judgeFit(houseAt(ctx), { ...about, readings }, memberAsking(ctx.actor)));
      return decideNow(ctx, { ...about, readings }, { fit, trialRuns: [] });
    }
    case 'trial':
      return decideNow(ctx, { ...about, note: cleared.trial ?? null });
    case 'production': {
      const polymers = cleared.polymers ?? [];
      const accepted: Awaited<ReturnType<typeof cautionsOf>>[number][] = [];
      for (const polymer of polymers) accepted.push(...(await cautionsOf(ctx, about, polymer)));
      return decideNow(ctx, { ...about, polymers, accepted });
    }
  }
}

async function decideNow(
  ctx: Ctx,
  wanted: DecisionWanted,
  prepared: Prepared = { fit: null, trialRuns: [] },
): Promise<void> {
  accept(await decide(ctx, wanted, prepared, []));
}

function houseAt({ tx, now }: Ctx) {
  return { checks: checksHere, database: tx, now: () => now };
}

function readingsOf({ thicknessMm = [0, 0, 0, 0] }: YardClearance): FitReadings {
  return {
    thicknessMm,
    holes: [{ hole: 1, diameterMm: 6.6, sinkDiameterMm: null, sinkDepthMm: null }],
    feedDiameterMm: null,
    feedDepthMm: null,
    burrsRemoved: true,
    headsBelowFace: true,
  };
}

async function cautionsOf(ctx: Ctx, { plateId, revision, bolsterId }: DecisionWanted, polymer: string) {
  const wish = { plateId, revision, polymer, bolsterId };
  const report = accept(await storedReport(houseAt(ctx), wish, memberAsking(ctx.actor)));
  return findingsOf(report.json).flatMap(({ check: name, verdict }) => {
    const check = CHECKS.find((one) => one === name);
    return check === undefined || verdict === 'clear' ? [] : [{ check, polymer, note: YARD_ACCEPTED }];
  });
}
