import { needsDrying } from '../engineering/polymers/needs-drying.js';
import { findPolymer } from '../engineering/polymers/polymers.js';

/** What of a booking decides what its member has to be signed off for. */
export interface WorkBooked {
  readonly polymer: string;
  /** True where sprues and rejects are to be ground up again afterwards. */
  readonly granulate: boolean;
}

export type WhySignOff = 'runs-press' | 'mounts-plate' | 'dries-resin' | 'granulates';

/** A competence that a booking asks for, and what for. */
export interface SignOffNeeded {
  readonly competence: string;
  readonly why: WhySignOff;
}

/**
 * What a member is signed off for who does this work: they run the press and mount the plate themselves, dry the
 * resin where it takes up water, and run the granulator where they want to.
 */
export function signOffsNeeded({ polymer, granulate }: WorkBooked): readonly SignOffNeeded[] {
  const resin = findPolymer(polymer);
  return [
    { competence: 'press-operation', why: 'runs-press' },
    { competence: 'plate-change', why: 'mounts-plate' },
    ...(resin !== null && needsDrying(resin)
      ? [{ competence: 'drying-oven', why: 'dries-resin' } as const]
      : []),
    ...(granulate ? [{ competence: 'granulator', why: 'granulates' } as const] : []),
  ];
}

/** The competences alone, in their order. */
export function competencesNeeded(work: WorkBooked): readonly string[] {
  return signOffsNeeded(work).map(({ competence }) => competence);
}
