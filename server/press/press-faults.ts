import type { PressFacts } from '../engineering/press-facts.js';
import type { Reason } from '../reasons.js';

/** What a press cannot be; empty for one that can. */
export function pressFaults({ clamp }: PressFacts): readonly Reason[] {
  if (clamp.minKn < clamp.maxKn) return [];
  const figures = { minKn: clamp.minKn, maxKn: clamp.maxKn };
  return [{ code: 'press-clamp-backwards', field: 'clampMaxKn', figures }];
}
