/** Groups the numbers 0 to `count` - 1 that links join, directly or through others, in order of their first member. */
export function clusters(count: number, links: readonly (readonly [number, number])[]): readonly number[][] {
  const root = Int32Array.from({ length: count }, (_, i) => i);
  const rootOf = (i: number): number => {
    let top = i;
    while (root[top] !== top) top = root[top] = root[root[top] as number] as number;
    return top;
  };
  for (const [i, j] of links) {
    const [a, b] = [rootOf(i), rootOf(j)];
    root[Math.max(a, b)] = Math.min(a, b);
  }
  const grouped = new Map<number, number[]>();
  for (let i = 0; i < count; i++) {
    const top = rootOf(i);
    const group = grouped.get(top);
    if (group) group.push(i);
    else grouped.set(top, [i]);
  }
  return [...grouped.values()];
}
