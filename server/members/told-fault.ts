import { LINE_FAULTS } from '../words/en/member-table.js';
import type { LineFault } from './member-table.js';

/** A line that was left out, and why. */
export function toldFault({ line, code, given, firstLine = 0 }: LineFault) {
  return { line, code, message: LINE_FAULTS[code]({ given, line: firstLine }) };
}
