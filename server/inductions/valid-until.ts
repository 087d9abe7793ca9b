import { Temporal } from 'temporal-polyfill';

/** When a sign-off lapses: so many months on, on the shop's own calendar, at the same time of day. */
export function validUntil(signedAt: Date, refreshMonths: number, timeZone: string): Date {
  const lapses = Temporal.Instant.fromEpochMilliseconds(signedAt.getTime())
    .toZonedDateTimeISO(timeZone)
    .add({ months: refreshMonths });
  return new Date(lapses.epochMilliseconds);
}
