import type { z } from 'zod';
import type { Actor } from '../context.js';
import type { Queryable } from '../database/queryable.js';
import { may } from '../members/permissions.js';
import { Refusal, refuse } from '../reasons.js';
import { isClearedNow } from './clearance/reached-now.js';
import type { wholePlateReply } from './schemas.js';
import { type Plate, type PlatesOf, plateById, revisionsOf } from './store.js';
import { wholePlateView } from './views.js';

/** A plate that the actor may see; one that they may not is not there. */
export async function visiblePlate(db: Queryable, actor: Actor, plateId: string): Promise<Plate | Refusal> {
  const plate = await plateById(db, plateId);
  if (plate === undefined || !may(actor, 'plate-see', plate))
    return refuse('not-found', { figures: { what: 'plate' } });
  return plate;
}

/** Whose plates a list shows the actor: stewards see everybody's. */
export function platesSeen(actor: Actor): PlatesOf {
  return may(actor, 'plate-see', {}) ? { everybodys: true } : { ownedBy: actor.memberId };
}

/** As `visiblePlate`, with all its revisions. */
export async function wholePlate(
  db: Queryable,
  actor: Actor,
  plateId: string,
): Promise<z.output<typeof wholePlateReply> | Refusal> {
  const plate = await visiblePlate(db, actor, plateId);
  if (plate instanceof Refusal) return plate;
  return wholePlateView(plate, await revisionsOf(db, plateId), await isClearedNow(db, plateId));
}
