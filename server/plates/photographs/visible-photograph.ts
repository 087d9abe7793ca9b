import type { Actor } from '../../context.js';
import type { Queryable } from '../../database/queryable.js';
import { Refusal, refuse } from '../../reasons.js';
import { visiblePlate } from '../visible-plate.js';
import { type Photograph, photographById } from './store.js';

/** A photograph that the actor may see: of a plate who may see the plate, of a bolster everybody. */
export async function visiblePhotograph(
  db: Queryable,
  actor: Actor,
  photographId: string,
): Promise<Photograph | Refusal> {
  const photograph = await photographById(db, photographId);
  if (photograph === undefined) return refuse('not-found', { figures: { what: 'photograph' } });
  if (photograph.plateId === null) return photograph;
  const plate = await visiblePlate(db, actor, photograph.plateId);
  return plate instanceof Refusal ? refuse('not-found', { figures: { what: 'photograph' } }) : photograph;
}
