import { stepsReached } from './steps.js';
import type { Clearance } from './store.js';

/** Why a decision that cleared a step stands no longer. */
export type VoidBecause = 'revised' | 'bolster-changed' | 'refused' | 'reworked' | 'taken-back';

/** What has become of the plate and the bolsters since. */
export interface Since {
  readonly latestRevision: number;
  /** The latest version of each bolster, by its id. */
  readonly bolsterVersions: ReadonlyMap<string, number>;
  /** Every decision about the plate, latest first. */
  readonly decisions: readonly Clearance[];
}

const BY_DECISION = { refuse: 'refused', rework: 'reworked', void: 'taken-back' } as const;

/** Why what a decision cleared stands no longer; null while it stands, and of one that cleared nothing. */
export function voidBecause(made: Clearance, since: Since): VoidBecause | null {
  if (made.decision !== 'clear') return null;
  if (made.revision !== since.latestRevision) return 'revised';
  if (made.bolsterVersion !== since.bolsterVersions.get(made.bolsterId)) return 'bolster-changed';
  const later = since.decisions.slice(
    0,
    since.decisions.findIndex(({ id }) => id === made.id),
  );
  const by = later.find(
    ({ decision, step, bolsterId, revision }) =>
      decision !== 'clear' &&
      bolsterId === made.bolsterId &&
      revision === made.revision &&
      stepsReached(step) <= stepsReached(made.step),
  );
  return by === undefined || by.decision === 'clear' ? null : BY_DECISION[by.decision];
}
