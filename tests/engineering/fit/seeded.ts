/** A repeatable stream of numbers in (0, 1): Lehmer's generator with the multiplier 48271 modulo 2^31 - 1. */
export function seeded(seed: number): () => number {
  let state = (seed % 2147483646) + 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
