import type { Queryable } from '../../database/queryable.js';
import type { Verdict } from '../../engineering/finding.js';
import { type Reached, reachedAfter } from './steps.js';
import { type Clearance, type ClearedThing, clearancesStanding } from './store.js';

/** What a plate is cleared for in one polymer. */
export interface Accepted {
  readonly polymer: string;
  readonly reportId: string;
  /** The production clearance that names it. */
  readonly clearanceId: string;
  /** Names of the checks that were accepted though they are not clear. */
  readonly cautions: readonly string[];
  /** What each of them said then. */
  readonly verdicts: { readonly [check: string]: Verdict };
}

/** How far a revision has come on a version of a bolster, and with what. */
export interface Standing {
  readonly reached: Reached;
  /** The latest decision that stands; null while none does. */
  readonly clearanceId: string | null;
  /** For production; empty before it. */
  readonly polymers: readonly string[];
  readonly accepted: readonly Accepted[];
  /** Why the latest decision took the plate back, where it did. */
  readonly refusedBecause?: string;
}

const NOTHING: Standing = { reached: 'none', clearanceId: null, polymers: [], accepted: [] };

/**
 * What stands for a revision on a version of a bolster, which is the bolster's latest where today is meant. Nothing
 * stands for a revision that has been followed by another.
 */
export async function standingClearance(db: Queryable, thing: ClearedThing): Promise<Standing> {
  return standingAfter(await clearancesStanding(db, thing));
}

/** What stands after some decisions about one revision on one version of a bolster, latest first. */
export function standingAfter(decisions: readonly Clearance[]): Standing {
  const [latest] = decisions;
  if (latest === undefined) return NOTHING;
  const reached = reachedAfter(latest.decision, latest.step);
  const accepted = reached === 'production' ? acceptedBy(decisions) : [];
  const standing = decisions.find(({ decision, step }) => decision === 'clear' && step === reached);
  return {
    reached,
    clearanceId: standing?.id ?? null,
    polymers: accepted.map(({ polymer }) => polymer),
    accepted,
    ...(latest.decision !== 'clear' && latest.note !== null && { refusedBecause: latest.note }),
  };
}

/** Production clearances on top of one another: of each polymer the latest. */
function acceptedBy(decisions: readonly Clearance[]): readonly Accepted[] {
  const before = decisions.findIndex(({ decision, step }) => decision !== 'clear' || step !== 'production');
  const found = new Map<string, Accepted>();
  for (const { id: clearanceId, reports } of decisions.slice(0, before === -1 ? undefined : before)) {
    for (const { polymer, reportId, cautions } of reports) {
      if (found.has(polymer)) continue;
      found.set(polymer, {
        polymer,
        reportId,
        clearanceId,
        cautions: cautions.map(({ check }) => check),
        verdicts: Object.fromEntries(cautions.map(({ check, verdict }) => [check, verdict])),
      });
    }
  }
  return [...found.values()].sort((one, other) => (one.polymer < other.polymer ? -1 : 1));
}

/** What a report of today says, as far as it is held against a clearance. */
export interface ReportNow {
  readonly polymer: string;
  readonly findings: readonly { readonly check: string; readonly verdict: Verdict }[];
}

/** A check that says worse than what was accepted. */
export interface Worse {
  readonly check: string;
  readonly accepted: Verdict;
  readonly now: Verdict;
}

/** From the verdict nobody has to accept to the one nobody can. */
export const WORSE_AND_WORSE: readonly Verdict[] = ['clear', 'caution', 'unknown', 'stop'];

/**
 * The checks of a report that got worse than what the steward accepted of its polymer; a check that the accepted
 * report did not have counts as having been clear. With a polymer that is not cleared at all, everything that is not
 * clear is worse.
 */
export function worseThanAccepted(
  { accepted }: Pick<Standing, 'accepted'>,
  { polymer, findings }: ReportNow,
): readonly Worse[] {
  const verdicts = accepted.find((one) => one.polymer === polymer)?.verdicts ?? {};
  return findings.flatMap(({ check, verdict: now }) => {
    const then = verdicts[check] ?? 'clear';
    return WORSE_AND_WORSE.indexOf(now) > WORSE_AND_WORSE.indexOf(then)
      ? [{ check, accepted: then, now }]
      : [];
  });
}
