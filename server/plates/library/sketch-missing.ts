import type { Asker } from '../../http/asker.js';
import { Refusal } from '../../reasons.js';
import { sprueDiameterNow } from '../check-ground.js';
import type { CheckingHouse } from '../checking-house.js';
import { keepSketch, notSketched } from './sketch-store.js';

/** One request reads no more than this; the rest waits for the next. */
const AT_ONCE_MAX = 12;

/**
 * Reads the drawings that the library does not know yet, once each: of all plates, or of one. A service that is
 * busy leaves them for the next time.
 */
export async function sketchMissing(
  { checks, database }: Pick<CheckingHouse, 'checks' | 'database'>,
  asker: Asker,
  plateId: string | null = null,
): Promise<void> {
  const missing = await notSketched(database, plateId, AT_ONCE_MAX);
  if (missing.length === 0) return;
  const sprueDiameterMm = await sprueDiameterNow(database);
  await Promise.all(
    missing.map(async (one) => {
      const read = await checks.sketch(one.dxf, sprueDiameterMm, asker);
      const isBusy = read instanceof Refusal && read.reasons.some(({ code }) => code === 'service-busy');
      if (!isBusy) await keepSketch(database, one, read instanceof Refusal ? null : read);
    }),
  );
}
