/**
 * A pure function that remembers its latest results by a key made of its input. Nothing depends on what it
 * remembers: forgotten, it is worked out again and comes out the same.
 */
export function memo<Input, Result>(
  keyOf: (input: Input) => string,
  work: (input: Input) => Result,
  keptMax: number,
): (input: Input) => Result {
  const kept = new Map<string, Result>();
  return (input) => {
    const key = keyOf(input);
    const known = kept.get(key);
    if (known !== undefined) return known;
    const result = work(input);
    const [oldest] = kept.keys();
    if (kept.size >= keptMax && oldest !== undefined) kept.delete(oldest);
    kept.set(key, result);
    return result;
  };
}
