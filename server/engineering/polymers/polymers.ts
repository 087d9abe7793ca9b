import { firstIncoherence } from './coherence.js';
import { PC, PMMA } from './data/clear-polymers.js';
import { TPE_S, TPU } from './data/elastomers.js';
import { PA6, PA66, POM } from './data/polyamides-and-acetal.js';
import { PBT, PET, PETG, PLA } from './data/polyesters.js';
import { HDPE, LDPE, PP } from './data/polyolefins.js';
import { ABS, HIPS, PS, SAN } from './data/styrenics.js';
import { PVC_P, PVC_U } from './data/vinyls.js';
import type { Polymer } from './polymer.js';

export type { Polymer } from './polymer.js';

/** The polymer families of this program, in the order a list shows them. */
export const POLYMERS: readonly Polymer[] = [
  PP,
  HDPE,
  LDPE,
  PS,
  HIPS,
  ABS,
  SAN,
  PA6,
  PA66,
  POM,
  PC,
  PMMA,
  PET,
  PETG,
  PBT,
  PVC_U,
  PVC_P,
  TPU,
  TPE_S,
  PLA,
].map(coherent);

const BY_SYMBOL: ReadonlyMap<string, Polymer> = new Map(
  POLYMERS.flatMap((polymer) => [
    [polymer.iso1043.toUpperCase(), polymer] as const,
    [polymer.symbol.toUpperCase(), polymer] as const,
  ]),
);

/** The polymer of a symbol, ours or that of ISO 1043-1, in any case; null when it is not in the table. */
export function findPolymer(symbol: string): Polymer | null {
  return BY_SYMBOL.get(symbol.trim().toUpperCase()) ?? null;
}

/** @throws RangeError for figures that cannot be true together: the data file is wrong */
function coherent(polymer: Polymer): Polymer {
  const wrong = firstIncoherence(polymer);
  if (wrong !== null)
    throw new RangeError(`${polymer.symbol}: ${wrong.code} ${JSON.stringify(wrong.figures)}`);
  return polymer;
}
