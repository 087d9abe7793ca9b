import type { Finding, Verdict } from './finding.js';
import type { Registration } from './fit/registration-result.js';

/** A plate checked on one bolster with one polymer. Findings stand in the order of `CHECKS`. */
export interface PlateCheck {
  readonly verdict: Verdict;
  readonly registration: Registration;
  readonly findings: readonly Finding[];
  readonly engineVersion: string;
  readonly dataVersion: string;
}
