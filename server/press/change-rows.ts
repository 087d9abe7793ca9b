import type { BolsterFacts, PressFacts } from '../engineering/press-facts.js';
import { BOLSTER_FIELD_WORDS, fieldText, holesDifference, PRESS_FIELD_WORDS } from '../words/en/press.js';
import { bolsterChanges, bolsterFields, pressChanges, pressFields } from './version-changes.js';

/** What differs between two versions of the press, before and after, in words. */
export function pressChangeRows(before: PressFacts, after: PressFacts) {
  const [was, is] = [pressFields(before), pressFields(after)];
  return pressChanges(before, after).map((name) => ({
    label: PRESS_FIELD_WORDS[name].label,
    before: fieldText(name, was[name]),
    after: fieldText(name, is[name]),
  }));
}

/** What differs between two versions of a bolster, before and after, in words. */
export function bolsterChangeRows(before: BolsterFacts, after: BolsterFacts) {
  const [was, is] = [bolsterFields(before), bolsterFields(after)];
  return bolsterChanges(before, after).map((name) => {
    const row = { before: fieldText(name, was[name]), after: fieldText(name, is[name]) };
    const more = name === 'holes' ? ` (${holesDifference(before.holes, after.holes)})` : '';
    return { label: BOLSTER_FIELD_WORDS[name].label, ...row, after: `${row.after}${more}` };
  });
}
