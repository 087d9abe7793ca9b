/** What is looked at and tried before a run, line by line; each needs its own tick. The order is that of the walk. */
export const PRE_USE_LINES = ['area-clear', 'guards', 'emergency-stop', 'hoses', 'no-leaks'] as const;

export type PreUseLine = (typeof PRE_USE_LINES)[number];

/** The lines that are not ticked, in their order. */
export function linesMissing(ticked: readonly PreUseLine[]): readonly PreUseLine[] {
  return PRE_USE_LINES.filter((line) => !ticked.includes(line));
}
