import type { ConditionName } from '../../bookings/conditions.js';
import type { WhySignOff } from '../../bookings/sign-offs-needed.js';
import { nameOfCompetence, namesOfCompetences } from './competences.js';

/** What each condition of a booking asks, as a line of a list. */
export const CONDITION_WORDS: { readonly [name in ConditionName]: string } = {
  'sign-offs': 'Signed off for what is done, through the end of the booking',
  'latest-revision': 'The plate’s latest revision',
  'plate-check': 'No stop in the plate check, with this resin on the mounted bolster',
  clearance:
    'Cleared by a steward on the mounted bolster: for production in this resin; for a trial, measured',
  resin: 'Enough of the sack is free, and dry in time',
  time: 'Start before end, still to come, not too far ahead',
  'opening-hours': 'Inside the opening hours',
  stretch: 'Not longer than the longest stretch',
  step: 'Start and end on the step of the shop’s clock',
  quota: 'Within your hours of this month',
  'press-free': 'Nobody has any of that time',
  'in-service': 'The press is in service, and its inspection not overdue',
  barrel: 'The resin may follow what is in the barrel',
};

/** What is missing of the sign-offs, as a value beside the condition. */
export function missingText(competences: readonly string[]): string {
  return `missing: ${namesOfCompetences(competences)}`;
}

/** Beside a condition that the booking has lost. */
export function lostSince(since: string): string {
  return `lost since ${since}`;
}

/** Where something is seen or done about what a booking lost. */
export const SEE_LOST = { plate: 'See the plate', inductions: 'See the inductions' } as const;

/** Beside the sign-offs of the booking form: they are those of the resin chosen. */
export function withResin(polymer: string): string {
  return `with ${polymer}`;
}

/** What each sign-off is needed for. */
export const WHY_SIGN_OFF: { readonly [why in WhySignOff]: (polymer: string) => string } = {
  'runs-press': () => 'you run the press',
  'mounts-plate': () => 'you mount the plate and take it down',
  'dries-resin': (polymer) => `${polymer} takes up water and is dried before`,
  granulates: () => 'you grind up sprues and rejects afterwards',
};

export const NOT_ASKED_YET = 'not asked for yet';
export const HELD = 'held when it was booked';
export const ASKED = 'asked';

export const STATUS_WORDS = {
  booked: 'booked',
  'needs-attention': 'needs attention',
  cancelled: 'cancelled',
  past: 'past',
} as const;

/** As the booking form offers them. */
export const KIND_OPTIONS = {
  production: 'production, on a cleared plate',
  trial: 'trial, on a measured plate',
} as const;

export const GRANULATE_OPTIONS = { no: 'not now', yes: 'afterwards, myself' } as const;

export const KIND_WORDS = { trial: 'trial', production: 'production' } as const;

/** What stands over the fields of the booking form whose messages do not say which they mean. */
export const BOOKING_LABELS = { date: 'Day', from: 'From', to: 'To', shots: 'Shots' } as const;

/** What is wrong with a field of the booking form. */
export const BOOKING_FORM_ERRORS = {
  plateId: 'Choose the plate you want to run.',
  polymer: 'Choose the resin.',
  date: 'Give the day as year, month and day, for instance 2026-11-26.',
  time: 'Give a time of day, for instance 14:00.',
  withinOneDay: 'End after the start, on the same day: past midnight is a booking of its own.',
  unmoved: 'This is the time it has already.',
  seen: 'Load the page again: it does not say from when it is moved.',
  skipped: 'The clocks go forward that night: this time does not come that day.',
  shots: 'Give a whole number of shots, or leave it empty.',
  reason: 'Say it in at most 500 characters.',
} as const;

export const SEE_REPORT = 'See its report';
export const SEE_BOOKING = 'See the booking';

/** "Spacer, revision 2", and where its newest check says stop, that. */
export function plateOptionText(
  name: string,
  revision: number,
  found: { readonly verdict: string; readonly polymer: string } | undefined,
): string {
  const stop = found?.verdict === 'stop' ? `: stop in ${found.polymer}` : '';
  return `${name}, revision ${revision}${stop}`;
}

export function stoppedText(polymer: string): string {
  return `has a stop in its plate check with ${polymer}; a booking would be refused.`;
}

/** "120 shots", or nothing said. */
export function shotsText(shots: number | null): string {
  return shots === null ? 'not said' : String(shots);
}

/** "Tile spacer, revision 1; the plate is at revision 2 by now, which it takes when it is moved". */
export function plateText(booking: {
  readonly plateName: string;
  readonly revision: number;
  readonly latestRevision: number;
}): string {
  const { plateName, revision, latestRevision } = booking;
  const booked = `${plateName}, revision ${revision}`;
  if (revision === latestRevision) return booked;
  return `${booked}; the plate is at revision ${latestRevision} by now, which it takes when it is moved`;
}

/** Said above the booking form to who cannot book yet. */
export function signOffNotice(competences: readonly string[]) {
  return {
    verdict: 'caution',
    strong: 'You cannot book yet.',
    text: `You are not signed off for ${competences.map(nameOfCompetence).join(' and ')}.`,
    link: { href: '/inductions', text: 'See the inductions' },
  } as const;
}
