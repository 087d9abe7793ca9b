import { findPolymer, POLYMERS } from '../engineering/polymers/polymers.js';
import { type Refusal, refuse } from '../reasons.js';

/** Our short name of a polymer given by any of its symbols: reports are kept under one name only. */
export function polymerNamed(symbol: string, field = 'polymer'): string | Refusal {
  const polymer = findPolymer(symbol);
  if (polymer !== null) return polymer.symbol;
  const known = POLYMERS.map((one) => one.symbol).join(', ');
  return refuse('polymer-unknown', { field, figures: { polymer: symbol, known } });
}
