import { Temporal } from 'temporal-polyfill';
import type { ShopRules } from '../shop/rules.js';

/** Whether an instant is a multiple of the shop's step past the full hour, on the shop's own clock. */
export function isOnStep(
  instant: Date,
  { slotStepMinutes, timeZone }: Pick<ShopRules, 'slotStepMinutes' | 'timeZone'>,
): boolean {
  const { minute, second, millisecond } = Temporal.Instant.fromEpochMilliseconds(
    instant.getTime(),
  ).toZonedDateTimeISO(timeZone);
  return minute % slotStepMinutes === 0 && second === 0 && millisecond === 0;
}
