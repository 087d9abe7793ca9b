const WRITTEN = /^[-−+]?\d+(?:[.,]\d+)?$/;

/** A length as people write it, with a decimal comma or point; `undefined` for anything else. */
export function readLength(word: string): number | undefined {
  if (!WRITTEN.test(word)) return undefined;
  return Number(word.replace(',', '.').replace('−', '-'));
}

/** A length to a thousandth of a millimetre, without zeros behind. */
export function writeLength(mm: number): string {
  const rounded = Math.round(mm * 1000) / 1000;
  return String(rounded === 0 ? 0 : rounded);
}

/** Lines of a table that say something, each with its number; a line beginning with # is a remark. */
export function linesOf(
  text: string,
): readonly { readonly line: number; readonly words: readonly string[] }[] {
  return text
    .split(/\r\n|\r|\n/)
    .map((written, i) => ({
      line: i + 1,
      words: written
        .trim()
        .split(/[\s;]+/)
        .filter(Boolean),
    }))
    .filter(({ words: [first] }) => first !== undefined && !first.startsWith('#'));
}
