const formatters = new Map<string, Intl.DateTimeFormat>();

/** Building a formatter costs some fifty times a use of it, and there are only a handful. */
function formatter(timeZone: string, parts: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  const key = `${timeZone} ${Object.keys(parts).join()} ${Object.values(parts).join()}`;
  const known = formatters.get(key) ?? new Intl.DateTimeFormat('en-GB', { timeZone, ...parts });
  formatters.set(key, known);
  return known;
}

/** `Wed 25 Nov`, on the shop's own calendar. */
export function dayText(instant: Date, timeZone: string): string {
  const parts = formatter(timeZone, { weekday: 'short', day: 'numeric', month: 'short' });
  return parts.format(instant).replace(',', '').replace('Sept', 'Sep');
}

/** `14:06`, on the shop's own clock. */
export function clockText(instant: Date, timeZone: string): string {
  return formatter(timeZone, { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).format(instant);
}

/** `Wed 25 Nov 2026`. */
export function dateText(instant: Date, timeZone: string): string {
  return `${dayText(instant, timeZone)} ${formatter(timeZone, { year: 'numeric' }).format(instant)}`;
}

/** `Wed 25 Nov 2026, 14:06`. */
export function momentText(instant: Date, timeZone: string): string {
  return `${dateText(instant, timeZone)}, ${clockText(instant, timeZone)}`;
}

/** `Thu 26 Nov, 14:00 to 17:45`; with the second day too where the span goes over midnight. */
export function spanText(startsAt: Date, endsAt: Date, timeZone: string): string {
  const startDay = dayText(startsAt, timeZone);
  const endDay = dayText(endsAt, timeZone);
  const end = clockText(endsAt, timeZone);
  return `${startDay}, ${clockText(startsAt, timeZone)} to ${endDay === startDay ? end : `${endDay}, ${end}`}`;
}

/** `3 h 45`, `45 min`, `2 h`. */
export function durationText(minutes: number): string {
  const whole = Math.round(minutes);
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${String(rest).padStart(2, '0')}`;
}
