import type { Span } from '../shop/opening-hours.js';

/**
 * A run may be opened this long before its booking begins: walking round the press and ticking takes some minutes,
 * and nothing is heated or moved for it that the booking before would mind. Common practice, no source. The trigger
 * `run_rules` has the same figure.
 */
const EARLY_MS = 10 * 60_000;

/** From when until when a run of a booking can be opened. */
export function openingSpan({ startsAt, endsAt }: Span): Span {
  return { startsAt: new Date(startsAt.getTime() - EARLY_MS), endsAt };
}

export function isOpeningTime(booking: Span, now: Date): boolean {
  const { startsAt, endsAt } = openingSpan(booking);
  return startsAt <= now && now < endsAt;
}
