import { z } from 'zod';

const HALF_A_PAIR = /\p{Surrogate}/u;

/** True for text that PostgreSQL can store: no NUL, no half of a surrogate pair. */
function isStorable(text: string): boolean {
  return !text.includes('\0') && !HALF_A_PAIR.test(text);
}

/** Words a person wrote: trimmed, not empty, storable, at most `max` UTF-16 units. */
export function text(max: number) {
  return z.string().trim().min(1).max(max).refine(isStorable, 'It holds a character that cannot be stored.');
}

/** Text that is one of ours to take exactly as typed, such as a password. */
export function exactText(max: number) {
  return z.string().min(1).max(max).refine(isStorable, 'It holds a character that cannot be stored.');
}
