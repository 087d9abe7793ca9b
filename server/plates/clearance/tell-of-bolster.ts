import type { Tx } from '../../database/transaction.js';
import type { BolsterRevised } from '../../listeners.js';
import { notify } from '../../notices/notify.js';
import { platesReachedOn } from './store.js';

/** A bolster has another version: whose plates were measured, tried or cleared on the one before are told. */
export async function tellOfBolster(tx: Tx, { bolsterId, name, version, at }: BolsterRevised): Promise<void> {
  for (const plate of await platesReachedOn(tx, { bolsterId, bolsterVersion: version - 1 })) {
    await notify(tx, {
      memberIds: [plate.ownerId],
      kind: 'plate-bolster-revised',
      figures: { plate: plate.name, bolster: name },
      href: `/plates/${plate.id}`,
      at,
    });
  }
}
