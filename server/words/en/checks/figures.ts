import type { Finding } from '../../../engineering/finding.js';
import { quantityText } from '../numbers.js';

/** A figure of the finding that must be a number; a finding without it is a fault in the check. */
export function figure(finding: Pick<Finding, 'figures'>, name: string): number {
  const value = finding.figures[name];
  if (typeof value !== 'number') throw new TypeError(`a finding without the figure ${name}`);
  return value;
}

/** A force of the finding, in text. */
export function kilonewtons(finding: Pick<Finding, 'figures'>, name: string): string {
  return quantityText(figure(finding, name), 'kN');
}

/** Says so when a plate was judged in a place where it does not fit; null when it fits. */
export function placedNote({ figures }: Pick<Finding, 'figures'>): string | null {
  if (figures.placed === 'best-motion')
    return 'The plate does not fit the bolster; it was judged where it comes nearest.';
  if (figures.placed === 'by-feed')
    return 'Nothing says how the plate is placed; it was judged as drawn, its feed on the sprue.';
  return null;
}
