import type { ReportKey } from './store.js';

/**
 * Thrown out of a transaction that needs a report nobody has computed yet: checks run before a transaction and
 * off the request thread. Who began it computes the report and begins again.
 */
export class ReportWanted extends Error {
  override readonly name = 'ReportWanted';
  readonly key: ReportKey;
  /** The instant whose shop rules it is wanted under. */
  readonly at: Date;

  constructor(key: ReportKey, at: Date) {
    super(`No report for revision ${key.revision} of plate ${key.plateId} in ${key.polymer}.`);
    this.key = key;
    this.at = at;
  }
}
