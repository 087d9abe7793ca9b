import type { ReportKey } from './store.js';

/**
 * Thrown out of a transaction that needs a report nobody has computed yet: checks run before a transaction and
 * off the request thread. Who began it computes the report and begins again.
 */
export class ReportWanted extends Error {
  override readonly name = 'ReportWanted';
  readonly key: ReportKey;

  constructor(key: ReportKey) {
    super(`No report for revision ${key.revision} of plate ${key.plateId} in ${key.polymer}.`);
    this.key = key;
  }
}
