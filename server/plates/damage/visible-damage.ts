import type { Actor } from '../../context.js';
import type { Queryable } from '../../database/queryable.js';
import { Refusal, refuse } from '../../reasons.js';
import { visiblePlate } from '../visible-plate.js';
import { type Damage, damageById } from './store.js';

/** Damage that the actor may see: of a plate who may see the plate, of a bolster everybody. */
export async function visibleDamage(
  db: Queryable,
  actor: Actor,
  damageId: string,
): Promise<Damage | Refusal> {
  const damage = await damageById(db, damageId);
  if (damage === undefined) return refuse('not-found', { figures: { what: 'damage' } });
  if (damage.plateId === null) return damage;
  const plate = await visiblePlate(db, actor, damage.plateId);
  return plate instanceof Refusal ? refuse('not-found', { figures: { what: 'damage' } }) : damage;
}
