import { contentsOf } from './contents-of.js';
import type { InductionVersion } from './store.js';

/** The parts as ticks along a rule: what was read, where one is. */
export function ruleOf(induction: InductionVersion, done: ReadonlySet<number>, current: number | null) {
  return contentsOf(induction).parts.map(({ title }, i) => ({
    href: `/inductions/${induction.competence}/${i + 1}`,
    text: `${i + 1}. ${title}`,
    done: done.has(i + 1),
    current: current === i + 1,
  }));
}
