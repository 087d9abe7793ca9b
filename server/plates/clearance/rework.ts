import { recordAudit } from '../../audit/record-audit.js';
import type { Ctx } from '../../context.js';
import { stewardsNow } from '../../inductions/standing.js';
import { type ClearanceChanged, type Listener, tell } from '../../listeners.js';
import { actorHeld } from '../../members/acted-on.js';
import { refusalUnless } from '../../members/permissions.js';
import { notify } from '../../notices/notify.js';
import { bolsters } from '../../press/store.js';
import { Refusal, refuse } from '../../reasons.js';
import { plateToRevise } from '../store.js';
import { clearancesStanding, insertClearance } from './store.js';

export interface ReworkWanted {
  readonly plateId: string;
  readonly revision: number;
  /** What was changed on the metal, for whoever measures it again. */
  readonly reason: string;
}

/**
 * Sends a plate back to fit because its metal was changed, as drawn: on every bolster on which something was decided
 * about it. Its owner says so, or a steward. A plate that was refused is thereby put forward again.
 *
 * @returns the ids of what was written, one for each bolster
 */
export async function rework(
  ctx: Ctx,
  { plateId, revision, reason }: ReworkWanted,
  changed: readonly Listener<ClearanceChanged>[],
): Promise<readonly string[] | Refusal> {
  const { now, tx } = ctx;
  const actor = await actorHeld({ ...ctx, stewardsAt: stewardsNow });
  if (actor instanceof Refusal) return actor;
  const plate = await plateToRevise(tx, plateId);
  if (plate === undefined) return refuse('not-found', { figures: { what: 'plate' } });
  const forbidden = refusalUnless(actor, 'plate-rework', plate, { by: 'plate-see', what: 'plate' });
  if (forbidden !== undefined) return forbidden;
  const latest = plate.latestRevision;
  if (revision > latest) return refuse('not-found', { figures: { what: 'revision' } });
  if (revision !== latest) return refuse('revision-not-latest', { figures: { latest } });
  if (plate.retiredAt !== null) return refuse('plate-retired');
  const ids: string[] = [];
  for (const { id: bolsterId, version: bolsterVersion } of await bolsters(tx)) {
    const thing = { plateId, revision, bolsterId, bolsterVersion };
    const [last] = await clearancesStanding(tx, thing);
    if (last === undefined || last.decision === 'rework') continue;
    const nothing = { readings: null, trialRunId: null, reports: [] };
    const made = { ...thing, ...nothing, step: 'fit', decision: 'rework', note: reason } as const;
    ids.push(await insertClearance(tx, { ...made, by: actor.memberId, at: now }));
    await tell(changed, tx, { plateId, revision, bolsterId, at: now, actorId: actor.memberId });
  }
  if (ids.length === 0) return refuse('clearance-nothing-to-take-back');
  await recordAudit(tx, {
    at: now,
    actorId: actor.memberId,
    action: 'plate-reworked',
    subjectKind: 'plate',
    subjectId: plateId,
    details: { revision },
  });
  if (plate.ownerId !== actor.memberId) {
    await notify(tx, {
      memberIds: [plate.ownerId],
      kind: 'plate-reworked',
      figures: { plate: plate.name, reason },
      href: `/plates/${plateId}`,
      at: now,
    });
  }
  return ids;
}
