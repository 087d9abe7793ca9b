const DAY_MS = 86_400_000;

/** Time enough to read again and to find a witness; common practice, no source. */
export const REMINDED_DAYS_BEFORE = 30;

/** Of a short interval, its last quarter: nobody is reminded on the day they are signed off. Common practice, no source. */
export const REMINDED_PART = 4;

/** From when on a sign-off is said to lapse soon. */
export function lapsesSoonFrom({
  signedAt,
  validUntil,
}: {
  readonly signedAt: Date;
  readonly validUntil: Date;
}): Date {
  const whole = validUntil.getTime() - signedAt.getTime();
  return new Date(validUntil.getTime() - Math.min(REMINDED_DAYS_BEFORE * DAY_MS, whole / REMINDED_PART));
}
