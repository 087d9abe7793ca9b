/** Short words of the press week. */
export const WEEK_WORDS = {
  title: 'Press week',
  you: 'You',
  kicker: 'From idea to slot',
  today: 'today',
  closed: 'closed',
  press: 'press',
  oven: 'oven',
  granulator: 'granulator',
  granulatorShort: 'gran.',
} as const;

/** "Book on Thu 26 Nov" */
export function bookOn(day: string): string {
  return `Book on ${day}`;
}

/** What the lanes of the time line are. */
export function lanesNote(kinds: readonly string[]): string {
  const others = [
    ...(kinds.includes('oven-tray') ? ['drying oven'] : []),
    ...(kinds.includes('granulator') ? ['granulator'] : []),
  ];
  return `${['press', ...others].join(', ').replace(/, ([^,]*)$/, ' and $1')}; times are the workshop’s own`;
}

interface Hold {
  readonly purpose: 'booking' | 'closure' | 'out-of-service';
  readonly note: string | null;
  readonly displayName: string | null;
  readonly polymer: string | null;
  readonly plateName: string | null;
}

/** What stands in a span of the time line: of others the name and nothing else. */
export function holdLabel({ purpose, note, displayName, plateName }: Hold, own: boolean): string {
  if (purpose === 'booking') {
    if (!own) return displayName ?? '';
    return plateName === null ? 'You' : `You: ${plateName}`;
  }
  return note ?? (purpose === 'closure' ? 'closed' : 'out of service');
}

/** The same for a row of the table: the polymer, because the next in line must know what is in the barrel. */
export function holdWords({ purpose, note, polymer }: Hold): string {
  if (purpose === 'booking') return polymer ?? '';
  const what = purpose === 'closure' ? 'closed' : 'out of service';
  return note === null ? what : `${what}: ${note}`;
}

/** "Wed 25 Nov to Tue 1 Dec". */
export function rangeText(first: string, last: string): string {
  return `${first} to ${last}`;
}

/** What the picture says to who cannot see it. */
export function weekLabel(range: string): string {
  return `Time line of the press, ${range}; the same stands in the table below`;
}

/** What the picture of one day says to who cannot see it. */
export function dayLabel(day: string): string {
  return `Time line of the press on ${day}; the same stands in the table below`;
}
