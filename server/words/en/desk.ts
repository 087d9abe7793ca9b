import type { DeskGroup } from '../../desk/waiting.js';
import type { Reason } from '../../reasons.js';
import { wordReason } from './reasons.js';
import { clockText, dayText, spanText } from './times.js';

export const GROUP_WORDS: { readonly [group in DeskGroup]: string } = {
  today: 'Needs attention',
  plates: 'Plates to clear',
  people: 'People',
};

interface Line {
  readonly name: string;
  readonly more: string;
  readonly button: string;
}

/** What a plate waits for, by how far it has come. */
const PLATE_STEPS = {
  none: { name: 'Fit to measure', button: 'Measure' },
  fit: { name: 'Trial to lead', button: 'Decide' },
  trial: { name: 'Production to sign', button: 'Sign' },
} as const;

/** What waits, in words: each with its one button. */
export const DESK_WORDS = {
  booking: (
    { displayName, startsAt, endsAt }: { displayName: string; startsAt: Date; endsAt: Date },
    lost: readonly Reason[],
    timeZone: string,
  ): Line => ({
    name: `Booking needs attention: ${spanText(startsAt, endsAt, timeZone)}`,
    more: [`${displayName}.`, ...lost.map((reason) => wordReason(reason).message)].join(' '),
    button: 'See the booking',
  }),
  plate: ({
    name,
    ownerName,
    revision,
    lies,
    reached,
  }: {
    name: string;
    ownerName: string;
    revision: number;
    lies: string | null;
    reached: 'none' | 'fit' | 'trial';
  }): Line => ({
    name: `${PLATE_STEPS[reached].name}: ${name}`,
    more: `${ownerName}’s, revision ${revision}${lies === null ? '' : `; ${lies}`}`,
    button: PLATE_STEPS[reached].button,
  }),
  nearMiss: ({
    place,
    hurt,
    reportedByName,
  }: {
    place: string;
    hurt: string;
    reportedByName: string;
  }): Line => ({
    name: `${hurt === 'nobody' ? 'Near miss' : 'Somebody was hurt'}: ${place}`,
    more: `told by ${reportedByName}; see to it and say what was done`,
    button: 'Read it',
  }),
  damage: ({
    bolsterName,
    plateName,
    what,
    reportedByName,
  }: {
    bolsterName: string | null;
    plateName: string | null;
    what: string;
    reportedByName: string;
  }): Line => ({
    name: `Damage: ${bolsterName ?? plateName ?? ''}`,
    more: `${what.length > 90 ? `${what.slice(0, 89)}…` : what}; reported by ${reportedByName}`,
    button: 'See to it',
  }),
  runLeftOpen: ({ plateName, openedByName }: { plateName: string; openedByName: string }): Line => ({
    name: `Run still open: ${plateName}`,
    more: `opened by ${openedByName}, and its time is over: see whether the press is off`,
    button: 'See the run',
  }),
  trial: (
    trial: { displayName: string; plateName: string; polymer: string; startsAt: Date; endsAt: Date },
    isNow: boolean,
    timeZone: string,
  ): Line => ({
    name: `Trial to attend: ${trial.plateName}`,
    more: `${trial.displayName}, in ${trial.polymer}, ${spanText(trial.startsAt, trial.endsAt, timeZone)}`,
    button: isNow ? 'Open now' : 'See the trial sheet',
  }),
  witness: ({
    displayName,
    title,
    note,
  }: {
    displayName: string;
    title: string;
    note: string | null;
  }): Line => ({
    name: `Witness ${displayName}: ${title}`,
    more: note === null ? 'the questions are answered' : `the questions are answered; ${note}`,
    button: 'Witness',
  }),
  lapsing: ({ displayName, title }: { displayName: string; title: string }): Line => ({
    name: `Sign-off ends: ${displayName}, ${title}`,
    more: 'it is answered and witnessed anew, or what rests on it falls',
    button: 'See the sign-offs',
  }),
  invitation: (
    { displayName, email, handedBy }: { displayName: string; email: string; handedBy: string },
    expired: boolean,
  ): Line => ({
    name: `Invitation ${expired ? 'ran out' : 'is open'}: ${displayName || email}`,
    more: `handed over by ${handedBy}${expired ? '; a new one can be handed over' : ''}`,
    button: 'See the invitations',
  }),
} as const;

const DAY_MS = 86_400_000;

/** `since Tue 24 Nov, 1 day`, `since 10:50 today`. */
export function sinceText(since: Date, now: Date, timeZone: string): string {
  if (dayText(since, timeZone) === dayText(now, timeZone)) return `since ${clockText(since, timeZone)} today`;
  const days = Math.max(1, Math.round((now.getTime() - since.getTime()) / DAY_MS));
  return `since ${dayText(since, timeZone)}, ${days === 1 ? '1 day' : `${days} days`}`;
}

/** `until 18:20 today`, `until Mon 30 Nov`. */
export function untilText(until: Date, now: Date, timeZone: string): string {
  return dayText(until, timeZone) === dayText(now, timeZone)
    ? `until ${clockText(until, timeZone)} today`
    : `until ${dayText(until, timeZone)}`;
}

/** Lines of the floor, as it stands now. */
export const FLOOR_WORDS = {
  press: 'Press',
  next: 'Next',
  open: 'Open today',
  free: 'free',
  nobody: 'nobody today',
  notToday: 'not today',
  until: (who: string, endsAt: Date, timeZone: string) => `${who}, until ${clockText(endsAt, timeZone)}`,
  from: (who: string, startsAt: Date, timeZone: string) => `${who}, ${clockText(startsAt, timeZone)}`,
  closed: 'closed',
  outOfService: 'out of service',
} as const;
