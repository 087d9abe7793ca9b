import type { z } from 'zod';
import { Refusal } from '../../reasons.js';
import { polymerNamed } from '../polymer-named.js';
import type { Plate } from '../store.js';
import type { SideWish } from './compare-plate.js';
import type { compareQuery } from './schemas.js';

/** What the comparison begins with. */
const USUAL_POLYMER = 'PP';

/**
 * The two sides that an address asks for. Nothing said: the latest revision with the one before it. Of the later side
 * what is left out is the earlier one's, but for the revision, which is the latest.
 */
export function sidesAsked(
  { latestRevision }: Pick<Plate, 'latestRevision'>,
  query: z.output<typeof compareQuery>,
): { readonly from: SideWish; readonly to: SideWish } | Refusal {
  const fromPolymer = polymerNamed(query.fromPolymer ?? query.toPolymer ?? USUAL_POLYMER);
  if (fromPolymer instanceof Refusal) return fromPolymer;
  const toPolymer = polymerNamed(query.toPolymer ?? fromPolymer);
  if (toPolymer instanceof Refusal) return toPolymer;
  const fromBolsterId = query.fromBolsterId ?? null;
  const toBolsterId = query.toBolsterId ?? fromBolsterId;
  const others = fromPolymer !== toPolymer || fromBolsterId !== toBolsterId;
  const toRevision = query.toRevision ?? latestRevision;
  const before = others ? toRevision : Math.max(1, toRevision - 1);
  return {
    from: { revision: query.fromRevision ?? before, polymer: fromPolymer, bolsterId: fromBolsterId },
    to: { revision: toRevision, polymer: toPolymer, bolsterId: toBolsterId },
  };
}
