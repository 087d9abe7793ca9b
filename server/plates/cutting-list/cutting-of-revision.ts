import type { Actor } from '../../context.js';
import { memberAsking } from '../../http/asker.js';
import type { House } from '../../http/house.js';
import { Refusal, refuse } from '../../reasons.js';
import { checkGround } from '../check-ground.js';
import type { CheckDone } from '../check-now.js';
import type { CheckingHouse } from '../checking-house.js';
import { revisionOnBolster } from '../clearance/as-drawn.js';
import { type Plate, type Revision, revisionOf } from '../store.js';
import { visiblePlate } from '../visible-plate.js';

/** A plate's revision with its drawing and its cutting list. */
export interface CuttingOfRevision extends CheckDone {
  readonly plate: Plate;
  readonly revision: Revision;
}

/** The cutting list of a revision, for who may see the plate. It is the same on every bolster. */
export async function cuttingOfRevision(
  house: CheckingHouse & Pick<House, 'now'>,
  actor: Actor,
  asked: { readonly plateId: string; readonly revision: number },
): Promise<CuttingOfRevision | Refusal> {
  const { database } = house;
  const plate = await visiblePlate(database, actor, asked.plateId);
  if (plate instanceof Refusal) return plate;
  const revision = await revisionOf(database, plate.id, asked.revision);
  if (revision === undefined) return refuse('not-found', { figures: { what: 'revision' } });
  const ground = await checkGround(database, house.now(), null);
  if (ground instanceof Refusal) return ground;
  const done = await revisionOnBolster(
    house,
    ground,
    { ...asked, facts: revision.facts },
    memberAsking(actor),
  );
  return done instanceof Refusal ? done : { ...done, plate, revision };
}
