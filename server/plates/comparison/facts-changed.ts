import type { PlateFacts } from '../../engineering/press-facts.js';

/** What is said about a plate beside its drawing, one fact at a time. */
export const FACT_NAMES = [
  'alloy',
  'thicknessMm',
  'packerThicknessMm',
  'facingThicknessMm',
  'partHeightMm',
  'draftDeg',
  'cutters',
  'screw',
  'screwGroups',
] as const satisfies readonly (keyof PlateFacts)[];

export type FactName = (typeof FACT_NAMES)[number];

/** A fact that is another now. */
export type FactChanged = {
  [name in FactName]: { readonly fact: name; readonly from: PlateFacts[name]; readonly to: PlateFacts[name] };
}[FactName];

/** The facts in which two revisions differ, in the order in which a form asks for them. */
export function factsChanged(before: PlateFacts, after: PlateFacts): readonly FactChanged[] {
  return FACT_NAMES.flatMap((fact) => {
    const [from, to] = [before[fact], after[fact]];
    return plain(from) === plain(to) ? [] : [{ fact, from, to } as FactChanged];
  });
}

/** Facts come from JSON, where the order of members means nothing. */
function plain(value: unknown): string {
  if (typeof value !== 'object' || value === null) return String(value);
  if (Array.isArray(value)) return `[${value.map(plain).join(' ')}]`;
  const members = Object.entries(value).toSorted(([a], [b]) => (a < b ? -1 : 1));
  return members.map(([name, member]) => `${name}: ${plain(member)}`).join(' ');
}
