/** A booking's phases, in their order; see `phasePatterns` for how each looks. */
export const PHASE_KINDS = [
  'dry',
  'warm-up',
  'mount',
  'purge',
  'settle',
  'run',
  'dismount-and-clean',
  'granulate',
] as const;

export type PhaseKind = (typeof PHASE_KINDS)[number];

/** A stretch of one lane, in minutes after midnight of the day it is drawn on, as the makerspace's clock shows them. */
export interface TimeSpan {
  readonly startMinute: number;
  readonly endMinute: number;
  readonly kind: 'own' | 'other' | 'closed' | 'out-of-service' | 'free' | 'picked';
  /** A name, a reason, or what is free; drawn where it fits. Empty for none. */
  readonly label: string;
  /** Stands where the label does not fit. */
  readonly shortLabel?: string;
  /** Of an own or picked span, in order; without them the whole span is shown as a run. */
  readonly phases?: readonly {
    readonly kind: PhaseKind;
    readonly minutes: number;
    readonly label?: string;
  }[];
  /** Letter of a slot. */
  readonly balloon?: string;
  /** Stands above a picked span as a dimension over these minutes: "free 5 h 50, this needs 3 h 45". */
  readonly dimension?: { readonly startMinute: number; readonly endMinute: number; readonly words: string };
}

export interface TimeLane {
  /** "press", "oven". */
  readonly lane: string;
  /** For the narrow lanes of a phone: "gran." */
  readonly shortName?: string;
  /** Height of its band in a week: press 34, oven 16, granulator 14. */
  readonly heightPx: number;
  readonly spans: readonly TimeSpan[];
}

export interface TimeDay {
  /** "Wed 25 Nov" */
  readonly name: string;
  /** "today" */
  readonly note?: string;
  /** Opening hours; null on a closed day, which is one low band with `closedWords`. */
  readonly open: readonly { readonly startMinute: number; readonly endMinute: number }[] | null;
  readonly closedWords: string;
  readonly lanes: readonly TimeLane[];
  /** The present, when it falls on this day. */
  readonly nowMinute?: number;
}

/** Stretches of a day outside opening hours, within what is drawn. */
export function closedStretches(
  day: TimeDay,
  fromMinute: number,
  toMinute: number,
): readonly (readonly [number, number])[] {
  const closed: (readonly [number, number])[] = [];
  let reached = fromMinute;
  for (const { startMinute, endMinute } of day.open ?? []) {
    if (startMinute > reached) closed.push([reached, Math.min(startMinute, toMinute)]);
    reached = Math.max(reached, endMinute);
  }
  if (reached < toMinute) closed.push([reached, toMinute]);
  return closed;
}

/** 600 as "10". */
export function hourName(minute: number): string {
  return String(Math.floor(minute / 60) % 24).padStart(2, '0');
}
