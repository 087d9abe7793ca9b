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
