import { recordAudit } from '../../audit/record-audit.js';
import type { Actor, Ctx } from '../../context.js';
import type { CheckName } from '../../engineering/finding.js';
import { stewardsNow } from '../../inductions/standing.js';
import { type ClearanceChanged, type Listener, tell } from '../../listeners.js';
import { actorHeld } from '../../members/acted-on.js';
import { may, refusalUnless } from '../../members/permissions.js';
import { notify } from '../../notices/notify.js';
import { Refusal, refuse } from '../../reasons.js';
import { checkGround, reportKey } from '../check-ground.js';
import { ReportWanted } from '../report-wanted.js';
import { type Plate, plateToRevise, type Revision, reportAt, revisionOf } from '../store.js';
import type { TrialRun } from './clearance-house.js';
import type { FitJudged } from './judge-fit.js';
import type { FitReadings } from './readings.js';
import { type ReportAsked, reasonsAgainst } from './reasons-against.js';
import { standingAfter } from './standing.js';
import type { Decision, Step } from './steps.js';
import { clearancesStanding, insertClearance } from './store.js';

/** A caution accepted by its name: in one polymer, or for null in all. */
export interface AcceptedByName {
  readonly check: CheckName;
  readonly polymer: string | null;
  readonly note: string | null;
}

export interface DecisionWanted {
  readonly plateId: string;
  readonly revision: number;
  /** Null: the mounted one. */
  readonly bolsterId: string | null;
  readonly step: Step;
  readonly decision: Exclude<Decision, 'rework'>;
  /** For production. */
  readonly polymers: readonly string[];
  readonly accepted: readonly AcceptedByName[];
  readonly readings: FitReadings | null;
  readonly trialRunId: string | null;
  readonly note: string | null;
}

/** What was prepared before the transaction began. */
export interface Prepared {
  /** Null where nothing was measured. */
  readonly fit: FitJudged | null;
  readonly trialRuns: readonly TrialRun[];
}

/**
 * A steward's decision about one step of a plate that is not their own. The plate's row is held: a revision that
 * arrives at the same moment, and another steward's decision, come before it or after it.
 *
 * @returns the decision's id, or every reason against it
 * @throws ReportWanted when a report it would stand on has not been computed
 */
export async function decide(
  ctx: Ctx,
  wanted: DecisionWanted,
  prepared: Prepared,
  changed: readonly Listener<ClearanceChanged>[],
): Promise<string | Refusal> {
  const { actor, now, tx } = ctx;
  const steward = await actorHeld({ ...ctx, stewardsAt: stewardsNow });
  if (steward instanceof Refusal) return steward;
  const plate = await plateToRevise(tx, wanted.plateId);
  const { revision, step, decision, note } = wanted;
  const kept = await revisionOf(tx, wanted.plateId, revision);
  const forbidden = refusalToDecide(steward, plate, kept);
  if (forbidden !== undefined || plate === undefined) return forbidden ?? refuse('not-found');
  if (kept === undefined) return refuse('not-found', { figures: { what: 'revision' } });
  if (plate.retiredAt !== null) return refuse('plate-retired');
  const ground = await checkGround(tx, now, wanted.bolsterId);
  if (ground instanceof Refusal) return ground;
  const { bolster } = ground;
  const { fit } = prepared;
  if (fit !== null && (fit.bolsterId !== bolster.id || fit.bolsterVersion !== bolster.version))
    return refuse('changed-meanwhile');
  const thing = {
    plateId: plate.id,
    revision,
    bolsterId: bolster.id,
    bolsterVersion: bolster.version,
  };
  const decisions = await clearancesStanding(tx, thing);
  const reports: ReportAsked[] = [];
  for (const polymer of step === 'production' && decision === 'clear' ? wanted.polymers : []) {
    const key = reportKey(ground, plate.id, revision, polymer);
    const report = await reportAt(tx, key);
    if (report === undefined) throw new ReportWanted(key, now);
    reports.push({ polymer, report });
  }
  const judgement = reasonsAgainst({
    wanted,
    thing,
    latest: plate.latestRevision,
    decisions,
    reports,
    prepared,
  });
  if (judgement instanceof Refusal) return judgement;
  const id = await insertClearance(tx, {
    ...thing,
    step,
    decision,
    readings: wanted.readings === null ? null : { ...wanted.readings, judged: fit?.judged ?? [] },
    trialRunId: wanted.trialRunId,
    note,
    by: actor.memberId,
    at: now,
    reports: judgement,
  });
  await tellOf(ctx, plate, wanted, id, standingAfter(await clearancesStanding(tx, thing)).polymers);
  await tell(changed, tx, {
    plateId: plate.id,
    revision,
    bolsterId: bolster.id,
    at: now,
    actorId: actor.memberId,
  });
  return id;
}

/**
 * Why the actor may not decide about this revision of a plate, or nothing: it is theirs, or they handed it in while the
 * plate was. A plate they may not see is not there.
 */
export function refusalToDecide(
  actor: Actor,
  plate: Plate | undefined,
  revision: Pick<Revision, 'createdBy'> | undefined,
): Refusal | undefined {
  if (plate === undefined || !may(actor, 'plate-see', plate))
    return refuse('not-found', { figures: { what: 'plate' } });
  const isOwn = plate.ownerId === actor.memberId || revision?.createdBy === actor.memberId;
  if (actor.stewards && isOwn) return refuse('clearance-own-plate');
  return refusalUnless(actor, 'plate-clear', plate);
}

const TOLD = {
  clear: 'plate-cleared',
  refuse: 'plate-refused',
  void: 'plate-clearance-void',
} as const;

async function tellOf(
  { actor, now, tx }: Ctx,
  plate: Plate,
  { step, decision, note, revision }: DecisionWanted,
  clearanceId: string,
  polymers: readonly string[],
): Promise<void> {
  const named = polymers.join(', ');
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: TOLD[decision],
    subjectKind: 'plate',
    subjectId: plate.id,
    details: {
      clearanceId,
      revision,
      step,
      memberId: plate.ownerId,
      ...(named !== '' && { polymers: named }),
    },
  });
  await notify(tx, {
    memberIds: [plate.ownerId],
    kind: TOLD[decision],
    figures: { plate: plate.name, step, polymers: named, reason: decision === 'clear' ? '' : (note ?? '') },
    href: `/plates/${plate.id}`,
    at: now,
  });
}
