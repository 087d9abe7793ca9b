const ELSEWHERE = 'http://elsewhere.invalid';

/** A path of ours to go on to, or home: never another site, however the address is dressed up. */
export function safeNext(next: unknown): string {
  if (typeof next !== 'string' || !next.startsWith('/') || next.length > 2000) return '/';
  if (!URL.canParse(next, ELSEWHERE)) return '/';
  const { origin, pathname, search, hash } = new URL(next, ELSEWHERE);
  const isOurs = origin === ELSEWHERE && !pathname.startsWith('//') && !pathname.startsWith('/sign-');
  return isOurs ? `${pathname}${search}${hash}` : '/';
}
