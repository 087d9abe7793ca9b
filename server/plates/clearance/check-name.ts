import { CHECKS } from '../../engineering/finding.js';
import { nameOfCheck } from '../../words/en/findings.js';

/** A check's name for a reader; one of an older release keeps its own word. */
export function checkName(check: string): string {
  const known = CHECKS.find((one) => one === check);
  return known === undefined ? check : nameOfCheck(known);
}
