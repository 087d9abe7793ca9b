import { recordAudit } from '../audit/record-audit.js';
import type { Ctx } from '../context.js';
import { screwWayMm } from '../engineering/melt/check-shot-volume.js';
import type { TrialStepKind } from '../engineering/run/trial-steps.js';
import type { DevelopedPhotograph } from '../plates/photographs/develop-photograph.js';
import { keepPhotograph } from '../plates/photographs/keep-photograph.js';
import { visiblePhotograph } from '../plates/photographs/visible-photograph.js';
import { bolsterOnPress } from '../press/store.js';
import { Refusal, refuse } from '../reasons.js';
import { nameOfStep } from '../words/en/trial-steps.js';
import { runToChange } from './run-to-change.js';
import { insertStep, type Run, type SetAs, stepsOf } from './store.js';
import { badSigns, OBSERVATIONS, type Observation } from './trial/observations.js';
import { type Went, whereIn } from './trial/where.js';

export interface StepWanted {
  readonly runId: string;
  /** The step that whoever keeps it had in front of them. */
  readonly step: string;
  readonly setAs: SetAs;
  readonly seen: readonly Observation[];
  readonly note: string | null;
  readonly went: Went;
  /** What `developPhotograph` made of what came, before the transaction began; or the id of one that is kept already. */
  readonly photograph: DevelopedPhotograph | string | null;
}

/**
 * Keeps what was set and seen at the step of a trial that is due, and where it led. Nothing of it is ever changed: a
 * step that is gone back to is kept once more.
 *
 * @returns the run's id
 */
export async function keepStep(ctx: Ctx, wanted: StepWanted): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const run = await runToChange(ctx, wanted.runId);
  if (run instanceof Refusal) return run;
  if (run.trialPlan === null) return refuse('run-no-trial');
  const { next, place, isStopped } = whereIn(run.trialPlan, await stepsOf(tx, run.id));
  if (isStopped) return refuse('trial-stopped');
  // Somebody else went on with it, or the page is an old one.
  if (next === undefined || next.name !== wanted.step) return refuse('changed-meanwhile');
  if (wanted.went === 'back' && place === 0) return refuse('trial-nothing-before', { field: 'went' });
  const possible: readonly Observation[] = OBSERVATIONS[next.kind];
  if (wanted.seen.some((one) => !possible.includes(one))) {
    return refuse('field-invalid', { field: 'seen', figures: { detail: possible.join(', ') } });
  }
  if (wanted.went === 'stop' && wanted.note === null && wanted.seen.length === 0) {
    return refuse('trial-stop-says-why', { field: 'note' });
  }
  const tooMuch = await beyondPress(ctx, wanted.setAs);
  if (tooMuch !== undefined) return tooMuch;
  const unseen = wanted.went === 'on' ? reasonNotToGoOn(next.kind, wanted) : undefined;
  if (unseen !== undefined) return unseen;
  const photographId = await photographOf(ctx, run, wanted);
  if (photographId instanceof Refusal) return photographId;
  const { setAs, seen, note, went, step } = wanted;
  await insertStep(tx, {
    runId: run.id,
    step,
    setAs,
    seen,
    note,
    went,
    photographId,
    keptBy: actor.memberId,
    keptAt: now,
  });
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'trial-step-kept',
    subjectKind: 'run',
    subjectId: run.id,
    details: { step, went },
  });
  return run.id;
}

/** Going on takes something that was seen, and words where it speaks against it; a plate that strikes goes no further. */
function reasonNotToGoOn(kind: TrialStepKind, { seen, note }: StepWanted): Refusal | undefined {
  if (seen.length === 0) return refuse('trial-seen-nothing', { field: 'seen' });
  const bad = badSigns(seen);
  if (bad.length === 0) return undefined;
  const figures = { signs: bad.join(', ') };
  if (kind === 'close-gently') return refuse('trial-goes-no-further', { field: 'seen', figures });
  return note === null ? refuse('trial-on-against-sign', { field: 'note', figures }) : undefined;
}

/** What cannot have been set on this press. */
async function beyondPress({ tx }: Ctx, setAs: SetAs): Promise<Refusal | undefined> {
  const press = (await bolsterOnPress(tx, null))?.press.facts;
  if (press === undefined) return undefined;
  const { screwDiameterMm, shotCm3, maxPressureMpa } = press.injection;
  const most: { readonly [figure in keyof SetAs]?: number } = {
    screwMm: screwWayMm(shotCm3 * 1000, screwDiameterMm),
    clampKn: press.clamp.maxKn,
    holdMpa: maxPressureMpa,
  };
  for (const [name, limit] of Object.entries(most) as [keyof SetAs, number][]) {
    const value = setAs[name];
    if (value === undefined || value <= limit) continue;
    return refuse('set-beyond-press', {
      field: `setAs.${name}`,
      figures: { value, most: Math.round(limit * 10) / 10 },
    });
  }
  return undefined;
}

async function photographOf(
  ctx: Ctx,
  { plateId, revision }: Run,
  { photograph, step }: StepWanted,
): Promise<string | null | Refusal> {
  if (photograph === null) return null;
  if (typeof photograph !== 'string') {
    const caption = `Trial: ${nameOfStep(step)}`;
    return keepPhotograph(ctx, { photograph, about: { plateId, revision }, caption });
  }
  const kept = await visiblePhotograph(ctx.tx, ctx.actor, photograph);
  if (kept instanceof Refusal) return kept;
  return kept.plateId === plateId && kept.revision === revision
    ? kept.id
    : refuse('not-found', { field: 'photographId', figures: { what: 'photograph of this revision' } });
}
