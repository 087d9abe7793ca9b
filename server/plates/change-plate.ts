import type { Ctx } from '../context.js';
import type { Listeners } from '../listeners.js';
import { Refusal } from '../reasons.js';
import { type PlacedAnew, placePlate } from './place-plate.js';
import { renamePlate } from './rename-plate.js';
import { retirePlate } from './retire-plate.js';
import { sharePlate } from './share-plate.js';
import type { Plate } from './store.js';

export interface PlateChange extends PlacedAnew {
  readonly plateId: string;
  readonly name?: string | undefined;
  readonly sharing?: Plate['sharing'] | undefined;
  readonly retired?: boolean | undefined;
}

/** Changes what is given of a plate, all of it or nothing; each part asks for its own right. */
export async function changePlate(
  ctx: Ctx,
  { plateId, name, sharing, retired, ...onRack }: PlateChange,
  listeners: Pick<Listeners, 'sharingChanged' | 'plateRetired'>,
): Promise<string | Refusal> {
  const parts = [
    ...(name === undefined ? [] : [() => renamePlate(ctx, { plateId, name })]),
    ...(sharing === undefined ? [] : [() => sharePlate(ctx, { plateId, sharing }, listeners)]),
    ...(Object.keys(onRack).length === 0 ? [] : [() => placePlate(ctx, { plateId, ...onRack })]),
    ...(retired === undefined ? [] : [() => retirePlate(ctx, { plateId, retired }, listeners)]),
  ];
  for (const change of parts) {
    const outcome = await change();
    if (outcome instanceof Refusal) return outcome;
  }
  return plateId;
}
